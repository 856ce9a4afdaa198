/** One piece of a way that is gone without a stop: its length, and the speed it allows. */
export interface WayPiece {
  readonly length: number;
  readonly speed: number;
  /** Degrees by which the way turns where this piece begins; it counts for no more at the first. */
  readonly turnDeg: number;
}

/** What a drive can do: a steady change of speed, and a change of velocity in an instant at a corner. */
export interface Drive {
  readonly acceleration: number;
  readonly jump: number;
}

/**
 * Seconds for a straight way of its own, from rest to rest: up to speed, along, and down again. With a
 * length L, a speed v and an acceleration a that is L / v + v / a, or 2 sqrt(L / a) where L < v^2 / a
 * (kinematics of constant acceleration). Any unit of length, in seconds.
 */
export function secondsFromRest(length: number, speed: number, acceleration: number): number {
  return secondsBetween(length, 0, 0, speed, acceleration);
}

/**
 * Seconds for each of some pieces gone one after the other, from rest to rest. Where the way turns by phi the
 * velocity changes by 2 v sin(phi / 2) at once, which must not be more than the drive's jump; along a
 * piece the square of the speed changes by 2 a L at most. Two passes, one from each end, find the
 * highest speed at every joint.
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

/** Up from one speed, along at the highest, and down to another; the top is where up and down meet if there is no along. */
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
