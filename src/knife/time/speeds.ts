/** One piece of a way that is gone without a stop: its length, and the highest speed on it. */
export interface WayPiece {
  readonly length: number;
  readonly speed: number;
  /**
   * Degrees by which the way turns at the start of this piece. It has no effect on the first piece, which
   * begins at rest.
   */
  readonly turnDeg: number;
}

/**
 * What a drive can do: `acceleration` is a steady change of speed, `jump` a change of velocity in an
 * instant at a corner.
 */
export interface Drive {
  readonly acceleration: number;
  readonly jump: number;
}

/**
 * Seconds for a straight way that begins and ends at rest: up to speed, along, and down again. With a
 * length L, a speed v and an acceleration a that is L / v + v / a, or 2 sqrt(L / a) if L < v^2 / a
 * (kinematics of constant acceleration). Any unit of length; time in seconds.
 */
export function secondsFromRest(length: number, speed: number, acceleration: number): number {
  return secondsBetween(length, 0, 0, speed, acceleration);
}

/**
 * Seconds for each of several pieces that are gone one after the other, from rest to rest.
 *
 * The idea: find the highest speed at every joint, then time each piece by itself. A joint must not be
 * faster than either of its two pieces. If the way turns by phi there, the velocity changes by 2 v
 * sin(phi / 2) at once, which must not exceed the drive's `jump`. Along a piece of length L the square of
 * the speed can change by 2 a L at most: one pass from the start enforces that for speeding up, one from
 * the end for slowing down.
 */
export function secondsOfWay(runs: readonly WayPiece[], { acceleration, jump }: Drive): number[] {
  const joints = runs.map(({ speed, turnDeg }, i) =>
    i === 0 ? 0 : Math.min(speed, runs[i - 1]!.speed, cornerSpeed(turnDeg, jump)),
  );
  joints.push(0);
  const reachable = (from: number, length: number): number =>
    Math.sqrt(from * from + 2 * acceleration * length);
  for (const [i, { length }] of runs.entries()) {
    joints[i + 1] = Math.min(joints[i + 1]!, reachable(joints[i]!, length));
  }
  for (let i = runs.length - 1; i >= 0; i--) {
    joints[i] = Math.min(joints[i]!, reachable(joints[i + 1]!, runs[i]!.length));
  }
  return runs.map(({ length, speed }, i) =>
    secondsBetween(length, joints[i]!, joints[i + 1]!, speed, acceleration),
  );
}

function cornerSpeed(turnDeg: number, jump: number): number {
  const share = 2 * Math.sin((Math.min(180, Math.abs(turnDeg)) * Math.PI) / 360);
  return share === 0 ? Infinity : jump / share;
}

/**
 * Seconds for a piece that is entered at speed `from` and left at speed `to`: up to the highest speed,
 * along, and down. If the piece is too short for the highest speed, the top is where up and down meet.
 */
function secondsBetween(
  length: number,
  from: number,
  to: number,
  speed: number,
  acceleration: number,
): number {
  if (length === 0) return 0;
  const meeting = Math.sqrt((2 * acceleration * length + from * from + to * to) / 2);
  const top = Math.max(from, to, Math.min(speed, meeting));
  const changing = (2 * top * top - from * from - to * to) / (2 * acceleration);
  return (2 * top - from - to) / acceleration + Math.max(0, length - changing) / top;
}
