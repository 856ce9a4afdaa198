/**
 * The door of the nesting engine: whoever lays something takes what is named here, and no other file of this folder.
 * README.md says how it works and what it promises.
 */
export { checkInstance, slackShare } from './instance.ts';
export type { Instance, ItemPlacement, Kind, PinnedKind } from './instance.ts';
export type { Nest } from './nest.ts';
export { boxOf, cornersOf, ringArea, twiceArea } from './polygon.ts';
export type { Ring } from './polygon.ts';
export { ending, mostStreams, nestInStreams, openEngine, usualStreams } from './streams.ts';
export type { Engine, Limit } from './streams.ts';
