import type { Finding } from '../findings.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter } from '../knife/cutter.ts';
import type { KnifePath } from '../knife/moves.ts';
import type { Bite } from '../knife/cuts.ts';
import type { Lay } from '../lay/lay.ts';
import type { Material } from '../pattern/material.ts';

/** One material of a run: its lay and how the knife goes over it. */
export interface MaterialFacts {
  readonly material: Material;
  /** As it lies on the bed, which with the face down is a mirror image of the lay. */
  readonly lay: Lay;
  /** Those of this material, as they lie on the bed. */
  readonly parts: readonly Part[];
  readonly bites: readonly Bite[];
  readonly knife: KnifePath;
  readonly dyeLot: string | null;
}

/** All that papers say of a run. */
export interface RunFacts {
  readonly run: string;
  readonly title: string;
  readonly cutter: Cutter;
  readonly orders: readonly Order[];
  readonly materials: readonly MaterialFacts[];
  readonly findings: readonly Finding[];
  /** First twelve hex digits of the SHA-256 of run.json. */
  readonly fingerprint: string;
}
