import type { Finding } from '../../base/findings.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxContains, boxOfPoints, growBox } from '../../geometry/paths/box.ts';
import { boxOfSegment } from '../../geometry/paths/segment.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Action, MotionAction, Program } from '../reading/actions.ts';
import { isMotion, movesOverBed } from '../reading/actions.ts';
import { fault } from './faults.ts';
import type { RollFeed } from '../reading/trace.ts';
import {
  feedLength,
  isAtCutDepth,
  isCheck,
  isAtSwivelDepth,
  isAtTravelHeight,
  segmentsOfMotion,
} from '../reading/trace.ts';

/**
 * How much a length may be off by rounding, mm: programs have at least three decimals in mm or four in
 * inches.
 */
const rounding = 0.002;
/** How much rounding may add to a turn in the material, degrees. */
const turnSlack = 0.1;

/** What the actions so far have left behind. */
interface EarlierActions {
  readonly moved: boolean;
  readonly oscillating: boolean;
  /** Seconds waited since something was switched on. */
  readonly waited: number;
  /** Whether the punch is down. */
  readonly punching: boolean;
  /** Whether anything was cut since the knife was last lowered. */
  readonly cut: boolean;
  readonly z: number;
  /** What the last message announced, for which the program must now stop. */
  readonly said: 'feed' | 'check' | undefined;
  /** How long the program must wait now, seconds. */
  readonly wait: number | undefined;
}

/**
 * Faults if a program does not keep the knife up wherever it does not cut, leaves the heights and feeds
 * of the profile or the bed, or does not stop for feeds with everything still. `own`: its lines that the
 * profile gives. These may stop, wait and say what they like.
 */
export function proveTravel(program: Program, cutter: Cutter, own: ReadonlySet<number>): Finding[] {
  const findings: Finding[] = [];
  let before: EarlierActions = {
    moved: false,
    oscillating: false,
    waited: 0,
    punching: false,
    cut: true,
    z: NaN,
    said: undefined,
    wait: undefined,
  };
  for (const action of program.actions) {
    const isOwn = own.has(action.line);
    const faults = isMotion(action)
      ? motionFaults(action, before, cutter).filter(([rule]) => !isOwn || rule !== 'height')
      : [
          ...stillFaults(action, before, cutter, isOwn),
          ...(isOwn ? [] : saidFaults(action, before, cutter)),
        ];
    findings.push(
      ...faults.map(([rule, message]) =>
        fault(rule, message, { file: program.file, line: action.line }),
      ),
    );
    before = afterAction(action, before, cutter);
  }
  return findings;
}

type Fault = readonly [rule: string, message: string];

function afterAction(action: Action, before: EarlierActions, cutter: Cutter): EarlierActions {
  const said = action.kind === 'message' ? wantsStop(action.text) : undefined;
  const wait = waitAfter(action, cutter);
  if (action.kind === 'spindle') {
    return { ...before, oscillating: action.on, waited: 0, said, wait };
  }
  if (action.kind === 'punch') {
    return { ...before, punching: action.word !== 'M9', waited: 0, said, wait };
  }
  if (action.kind === 'dwell') {
    return { ...before, waited: before.waited + action.seconds, said, wait };
  }
  if (!isMotion(action)) return { ...before, said, wait };
  const cut = movesOverBed(action) || (before.cut && action.to.z >= action.from.z);
  return { ...before, moved: true, z: action.to.z, cut, said, wait };
}

/** How long a program must wait after an action, seconds: for the knife's speed, or for the punch. */
function waitAfter(action: Action, { knife, punch }: Cutter): number | undefined {
  if (action.kind === 'punch' && action.word !== 'M9') return punch?.dwell;
  if (action.kind !== 'spindle' || !action.on || knife.kind !== 'tangential') return undefined;
  return knife.oscillation?.dwell;
}

/** The words of the messages that stop a program, after the length of a feed. */
const messages = {
  feed: {
    mm: / MM: pull the roll on, then start again$/,
    in: / IN: pull the roll on, then start again$/,
  },
  check: /^CHECK: the knife stands over the mark\. If not, mend the feed first$/,
};

/** Faults of what a program says, waits for and switches without moving. */
function saidFaults(action: Action, before: EarlierActions, cutter: Cutter): Fault[] {
  switch (action.kind) {
    case 'message':
      return messageFaults(action.text, cutter);
    case 'note':
      return !before.moved || isAtTravelHeight(before.z, cutter)
        ? []
        : [['note', 'a note stands where the knife is down.']];
    case 'dwell':
      return waitFaults(action.seconds, before.wait);
    case 'spindle':
      return spindleFaults(action.on, before, cutter);
    default:
      return [];
  }
}

function messageFaults(text: string, { program: { units } }: Cutter): Fault[] {
  const feed = messages.feed[units === 'mm' ? 'mm' : 'in'];
  const isRight = feedLength(text) === undefined ? messages.check.test(text) : feed.test(text);
  return isRight ? [] : [['message', `the message "${text}" is none of those that a program has.`]];
}

/** How much a time may be off by rounding, seconds. */
const sameTime = 0.0006;

function waitFaults(seconds: number, asked: number | undefined): Fault[] {
  if (asked === undefined)
    return [['wait', `the program waits ${seconds} s where nothing asks for it.`]];
  if (Math.abs(seconds - asked) <= sameTime) return [];
  return [['wait', `the program waits ${seconds} s instead of ${asked} s.`]];
}

function spindleFaults(on: boolean, before: EarlierActions, cutter: Cutter): Fault[] {
  const { knife } = cutter;
  if (knife.kind === 'trailing' || knife.oscillation === undefined) {
    return [['oscillating', `this knife does not oscillate (${on ? 'M3' : 'M5'}).`]];
  }
  if (on !== before.oscillating) {
    return !before.moved || isAtTravelHeight(before.z, cutter)
      ? []
      : [['oscillating', `the knife is switched ${on ? 'on' : 'off'} where it is down.`]];
  }
  return [
    [
      'oscillating',
      `the knife is switched ${on ? 'on' : 'off'} where it is ${on ? 'on' : 'off'} already.`,
    ],
  ];
}

function wantsStop(message: string): EarlierActions['said'] {
  if (feedLength(message) !== undefined) return 'feed';
  return isCheck(message) ? 'check' : undefined;
}

function stillFaults(
  action: Action,
  before: EarlierActions,
  cutter: Cutter,
  isOwn: boolean,
): Fault[] {
  if (before.said !== undefined && action.kind !== 'stop') return [noStop(before.said)];
  if (action.kind !== 'stop' && action.kind !== 'end' && action.kind !== 'punch') return [];
  const what = { stop: 'stops', end: 'ends', punch: 'punches' }[action.kind];
  const faults: Fault[] = action.kind === 'punch' ? punchFaults(action.word, before, cutter) : [];
  if (action.kind !== 'punch' && before.punching) {
    faults.push(['punch', `the program ${what} with the punch down.`]);
  }
  if (!isAtTravelHeight(before.z, cutter) && !(isOwn && !before.moved)) {
    const where = before.moved ? `with the knife at Z ${before.z}` : 'before it lifts the knife';
    faults.push(['knife-down', `the program ${what} ${where}.`]);
  }
  if (before.oscillating) {
    faults.push(['oscillating', `the program ${what} with the knife oscillating.`]);
  }
  if (action.kind === 'stop' && before.said === undefined && !isOwn) {
    faults.push(['feed', 'the program stops, but says neither feed nor check.']);
  }
  return faults;
}

/**
 * Faults if the punch does not go down by the word of the profile, stay down for its time, and come up.
 */
function punchFaults(word: 'M7' | 'M8' | 'M9', before: EarlierActions, { punch }: Cutter): Fault[] {
  if (punch === undefined) return [['punch', `the machine has no punch (${word}).`]];
  if (word !== 'M9') {
    const isRight = word === punch.word && !before.punching;
    return isRight
      ? []
      : [['punch', `the punch is worked by ${word} where it is not up or takes ${punch.word}.`]];
  }
  if (!before.punching) return [['punch', 'the punch is let go where it is not down.']];
  if (before.waited >= punch.dwell - rounding) return [];
  return [['punch', `the punch stays down for ${before.waited} s instead of ${punch.dwell} s.`]];
}

function noStop(said: 'feed' | 'check'): Fault {
  return ['feed', `the program does not stop for the ${said} it announces.`];
}

function motionFaults(motion: MotionAction, before: EarlierActions, cutter: Cutter): Fault[] {
  const faults: Fault[] = [];
  if (before.said !== undefined) faults.push(noStop(before.said));
  if (before.punching) faults.push(['punch', 'the machine moves with the punch down.']);
  if (!before.moved && (movesOverBed(motion) || !isAtTravelHeight(motion.to.z, cutter))) {
    faults.push(['start', 'the program does not begin by lifting the knife to travel height.']);
  }
  return [
    ...faults,
    ...(movesOverBed(motion)
      ? [...bedFaults(motion, cutter), ...levelFaults(motion, before, cutter)]
      : upDownFaults(motion, before, cutter)),
  ];
}

function bedFaults(motion: MotionAction, { bed }: Cutter): Fault[] {
  const onBed: Box = growBox(
    { minX: 0, minY: 0, maxX: bed.length, maxY: bed.width },
    bed.overrun + rounding,
  );
  const outside = segmentsOfMotion(motion).find(
    (segment) => !boxContains(onBed, boxOfSegment(segment)),
  );
  if (outside === undefined) return [];
  const { minX, minY, maxX, maxY } = boxOfPoints([motion.from, motion.to]);
  const reach = `X ${minX.toFixed(1)} to ${maxX.toFixed(1)}, Y ${minY.toFixed(1)} to ${maxY.toFixed(1)}`;
  return [
    [
      'off-the-bed',
      `the axis leaves the bed of ${bed.length} x ${bed.width} mm and its overrun of ${bed.overrun} mm: ${reach}.`,
    ],
  ];
}

/**
 * Faults of a motion over the bed. It must be rapid at travel height, or at cutting feed in the material.
 */
function levelFaults(motion: MotionAction, before: EarlierActions, cutter: Cutter): Fault[] {
  const { from, to } = motion;
  if (from.z !== to.z) return [['slope', 'the knife moves over the bed and up or down at once.']];
  if (motion.kind === 'rapid') {
    if (isAtTravelHeight(from.z, cutter)) return [];
    return [['knife-down', `the machine travels (G0) with the knife at Z ${from.z}.`]];
  }
  const byRadius: Fault[] =
    motion.kind === 'arc' && motion.byRadius
      ? [['program', 'an arc is said by its radius, which near a half turn says too little.']]
      : [];
  const faults = [
    ...byRadius,
    ...swivelFaults(motion, cutter),
    ...depthFaults(from.z, cutter),
    ...feedFaults(motion.feed, cutter.feeds.cut),
  ];
  return [...faults, ...speedFaults(before, cutter)];
}

/** How far the axis may be from its circle round the tip, mm. */
const roundTip = 0.05;
/** A half turn, and a little for rounding, degrees. */
const halfTurn = 181;

/** A fault if a trailing knife is swivelled about its tip by the longer way. */
function swivelFaults(motion: MotionAction, { knife }: Cutter): Fault[] {
  if (motion.kind !== 'arc' || knife.kind !== 'trailing') return [];
  if (Math.abs(motion.radius - knife.offset) > roundTip) return [];
  if (Math.abs(motion.sweepDeg) <= halfTurn) return [];
  const turn = Math.abs(motion.sweepDeg).toFixed(1);
  return [['swivel', `the knife is swivelled by ${turn} degrees, the long way round.`]];
}

/** A fault if an oscillating knife cuts while it is off, or before it has come to speed. */
function speedFaults({ oscillating, waited }: EarlierActions, { knife }: Cutter): Fault[] {
  if (knife.kind !== 'tangential' || knife.oscillation === undefined) return [];
  if (!oscillating) {
    return [['oscillating', 'the knife goes into the material without oscillating.']];
  }
  const { dwell } = knife.oscillation;
  if (waited >= dwell - rounding) return [];
  return [
    [
      'oscillating',
      `the knife goes into the material ${waited} s after it is switched on; it takes ${dwell} s to come to speed.`,
    ],
  ];
}

function depthFaults(z: number, cutter: Cutter): Fault[] {
  const { cut } = cutter.heights;
  if (z < cut - rounding) return [['depth', `the knife is at Z ${z}, deeper than ${cut}.`]];
  if (isAtCutDepth(z, cutter) || isAtSwivelDepth(z, cutter)) return [];
  return [['depth', `the knife moves as if to cut, but at Z ${z} instead of ${cut}.`]];
}

function feedFaults(feed: number, right: number): Fault[] {
  if (Math.abs(feed - right) <= rounding) return [];
  return [['feed-rate', `the feed is ${feed} instead of ${right}.`]];
}

/** Faults of a motion on the spot. It must be one of these: up, down, or a turn. */
function upDownFaults(motion: MotionAction, before: EarlierActions, cutter: Cutter): Fault[] {
  const { from, to } = motion;
  if (from.z !== to.z && from.deg !== to.deg) {
    return [['slope', 'the knife turns and goes up or down at once.']];
  }
  if (from.deg !== to.deg) return turnFaults(motion, cutter);
  if (to.z === from.z) return [];
  const stab: Fault[] =
    to.z > from.z && !before.cut
      ? [['stab', 'the knife is lowered and lifted without a cut.']]
      : [];
  if (motion.kind === 'rapid') {
    if (isAtTravelHeight(to.z, cutter)) return [...stab, ...clearFaults(to.z, cutter)];
    return [...stab, ['knife-down', `the knife goes to Z ${to.z} at rapid (G0).`]];
  }
  return [
    ...stab,
    ...depthFaults(to.z, cutter),
    ...feedFaults(motion.feed, cutter.feeds.plunge),
    ...(to.z < from.z ? speedFaults(before, cutter) : []),
  ];
}

/** A fault if the knife is lifted higher than the profile says: a gantry may not have the room. */
function clearFaults(z: number, { heights }: Cutter): Fault[] {
  if (z <= heights.travel + rounding) return [];
  return [['height', `the knife is lifted to Z ${z}; the profile travels at ${heights.travel}.`]];
}

function turnFaults(motion: MotionAction, cutter: Cutter): Fault[] {
  const { knife } = cutter;
  if (knife.kind !== 'tangential' || motion.kind === 'rapid') {
    return [['turn', 'the knife is turned at rapid (G0).']];
  }
  const faults = feedFaults(motion.feed, knife.axis.feed);
  const turn = Math.abs(motion.to.deg - motion.from.deg);
  if (!isAtTravelHeight(motion.from.z, cutter) && turn > knife.liftAboveDeg + turnSlack) {
    faults.push([
      'turn',
      `the knife is turned by ${turn.toFixed(1)} degrees in the material; above ${knife.liftAboveDeg} it is lifted.`,
    ]);
  }
  return faults;
}

/**
 * A fault if the announced feeds do not bring the roll to each bite in turn. `starts`: where the bites
 * begin, mm, in order. Whether everything is cut in its place is checked by the cuts, more exactly.
 */
export function proveFeeds(
  feeds: readonly RollFeed[],
  starts: readonly number[],
  file: string,
): Finding[] {
  const expected = starts.filter((start) => start > 0);
  let fed = 0;
  const reached = feeds.map(({ length }) => (fed += length));
  const wrong = expected.findIndex(
    (start, i) => Math.abs((reached[i] ?? -Infinity) - start) > (i + 1) * rounding,
  );
  if (wrong === -1 && reached.length === expected.length) return [];
  const message = `the feeds bring the roll to ${inWords(reached)} (mm); after the first the bites start at ${inWords(expected)}.`;
  const line = feeds[wrong]?.line ?? feeds.at(-1)?.line;
  return [fault('feed', message, { file, ...(line === undefined ? {} : { line }) })];
}

function inWords(stops: readonly number[]): string {
  return stops.length === 0 ? 'nowhere' : stops.map((stop) => stop.toFixed(1)).join(', ');
}
