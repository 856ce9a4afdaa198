import type { ClientRequestOptions } from 'hono/client';
import type { Order } from '../../../handing/order.ts';
import type { StepWish } from '../../api/cutting.ts';
import type { RecutWish, RestWish } from '../../api/files.ts';
import type { PartMove } from '../../api/lay.ts';
import type { KeptRoll } from '../../api/roll.ts';
import type { GatherWish } from '../../api/runs.ts';
import type { BeginWish, SightWish } from '../../api/sight.ts';
import { serverKey } from './link.ts';
import { draftClient, drawingClient, folderClient, runClient, shopClient } from './client.ts';

/**
 * Everything that the page asks the server for. Each call throws a ServerRefusal where it is refused, and
 * where there is no server any more.
 */
export const calls = {
  // The shop: everything there is to choose from.
  shop: () => answer(shopClient.api.shop.$get()),
  glance: (run: string) =>
    answer(shopClient.api.glance[':run'].$get({ param: { run: part(run) } })),
  putAway: (run: string, away: boolean) =>
    answer(shopClient.api.archive[':run'].$put({ param: { run: part(run) }, json: { away } })),
  gather: (wish: GatherWish) => answer(shopClient.api.gather.$post({ json: wish })),
  checkSet: (set: string) =>
    answer(shopClient.api.set[':set'].check.$get({ param: { set: part(set) } })),
  plan: (order: Order) => answer(shopClient.api.plan.$post({ json: order })),
  /** What is seen in a drawing before it is a set. */
  sight: (wish: SightWish, drawing: ArrayBuffer) =>
    answer(drawingClient.api.drawing.$post({}, withBytes(wish, drawing))),
  /** Begins a set of a drawing. */
  beginSet: (set: string, wish: BeginWish, drawing: ArrayBuffer) =>
    answer(
      drawingClient.api.drawing[':set'].$post(
        { param: { set: part(set) } },
        withBytes(wish, drawing),
      ),
    ),
  rememberRoll: (roll: KeptRoll) => answer(shopClient.api.roll.$put({ json: roll })),
  forgetRoll: (material: string, name: string, colour: string | undefined) =>
    answer(
      shopClient.api.roll[':material'][':name'].$delete({
        param: { material: part(material), name: part(name) },
        query: { colour },
      }),
    ),

  // A set while somebody works on it.
  draft: (set: string, version: string | undefined) =>
    answer(drafts.$get({ ...inSet(set), query: { version } })),
  editDraft: (set: string, json: { version: string; edit: SentEdit }) =>
    answer(drafts.edit.$post({ ...inSet(set), json })),
  undoDraft: (set: string, version: string) =>
    answer(drafts.undo.$post({ ...inSet(set), json: { version } })),
  redoDraft: (set: string, version: string) =>
    answer(drafts.redo.$post({ ...inSet(set), json: { version } })),
  draftHands: (set: string, json: AskedHands) =>
    answer(drafts.hands.$post({ ...inSet(set), json })),
  draftHalves: (set: string, piece: string) =>
    answer(drafts.halves.$get({ ...inSet(set), query: { piece } })),
  draftRuns: (set: string, piece: string) =>
    answer(drafts.runs.$get({ ...inSet(set), query: { piece } })),
  draftQuestions: (set: string) => answer(drafts.questions.$get(inSet(set))),
  draftSeams: (set: string) => answer(drafts.seams.$get(inSet(set))),
  askedSeam: (set: string, edit: Extract<SentEdit, { kind: 'seam' }>) =>
    answer(drafts.seam.$post({ ...inSet(set), json: { edit } })),

  // A run file, and what is done to it.
  runFile: (run: string) => answer(runs.$get(inRun(run))),
  saveRunFile: (run: string, json: SavedRun) => answer(runs.$put({ ...inRun(run), json })),
  undoRun: (run: string, version: string) =>
    answer(runs.undo.$post({ ...inRun(run), json: { version } })),
  redoRun: (run: string, version: string) =>
    answer(runs.redo.$post({ ...inRun(run), json: { version } })),
  together: (run: string) => answer(runs.together.$get(inRun(run))),
  layTable: (run: string) => answer(runs.table.$get(inRun(run))),
  layFaults: (run: string) => answer(runs.faults.$get(inRun(run))),
  beginSearch: (run: string, seconds: number) =>
    answer(runs.search.$post({ ...inRun(run), json: { seconds } })),
  stopSearch: (run: string) => answer(runs.stop.$post(inRun(run))),
  saveLays: (run: string) => answer(runs.save.$post(inRun(run))),
  layBack: (run: string, version: string, id: string) =>
    answer(runs['lay-back'].$post({ ...inRun(run), json: { version, id } })),
  movePart: (run: string, json: PartMove) => answer(runs.move.$post({ ...inRun(run), json })),
  cut: (run: string) => answer(runs.cut.$post(inRun(run))),
  stopCut: (run: string) => answer(runs.cut.stop.$post(inRun(run))),
  cutState: (run: string) => answer(runs.cut.$get(inRun(run))),

  // Run folders.
  runFolder: (run: string) => answer(folders.$get(inRun(run))),
  /** What can be printed of a run folder. */
  papers: (run: string) => answer(folders.papers.$get(inRun(run))),
  proof: (run: string) => answer(folders.proof.$get(inRun(run))),
  /** A block of bytes: see `rehearsalOf`. */
  rehearsal: async (run: string, lay: string) => {
    const param = { run: part(run), lay: part(lay) };
    return (await folders.rehearsal[':lay'].$get({ param })).arrayBuffer();
  },
  marks: (run: string) => answer(folders.marks.$get(inRun(run))),
  tick: (run: string, json: StepWish) => answer(folders.tick.$post({ ...inRun(run), json })),
  untick: (run: string, json: StepWish) => answer(folders.untick.$post({ ...inRun(run), json })),
  beginCutting: (run: string, files: string) =>
    answer(folders.begin.$post({ ...inRun(run), json: { files } })),
  recut: (run: string, json: RecutWish) => answer(folders.recut.$post({ ...inRun(run), json })),
  rememberRest: (run: string, json: RestWish) =>
    answer(folders.rest.$post({ ...inRun(run), json })),
  compare: (before: string, after: string) =>
    answer(folderClient.api.compare.$post({ json: { before, after } })),
};

const drafts = draftClient.api.draft[':set'];
const runs = runClient.api.run[':run'];
const folders = folderClient.api.out[':run'];

/** What is asked about both hands of a draft. */
export type AskedHands = Parameters<typeof drafts.hands.$post>[0]['json'];

/** An edit as it is sent; what its schema fills in may be left out. */
export type SentEdit = Parameters<typeof drafts.edit.$post>[0]['json']['edit'];

/** A run file to be saved; what the schema of run files fills in may be left out. */
export type SavedRun = Parameters<typeof runs.$put>[0]['json'];

/** Hono's client puts names into addresses as they are, so they are encoded here. */
const part = encodeURIComponent;

function inSet(set: string): { readonly param: { readonly set: string } } {
  return { param: { set: part(set) } };
}

function inRun(run: string): { readonly param: { readonly run: string } } {
  return { param: { run: part(run) } };
}

async function answer<T>(call: Promise<{ readonly json: () => Promise<T> }>): Promise<T> {
  return (await call).json();
}

/**
 * What is said of a drawing as one line of JSON, and the drawing behind it as it is: hono's client has no
 * argument for a body of bytes, so it goes in by `init`.
 */
function withBytes(wish: SightWish | BeginWish, drawing: ArrayBuffer): ClientRequestOptions {
  return {
    headers: { 'content-type': 'application/octet-stream' },
    init: { body: new Blob([`${JSON.stringify(wish)}\n`, drawing]) },
  };
}

/** The address of a file of a run folder, or of all of it in one: links cannot send the key as calls do. */
export function fileAddress(run: string, file?: string): string {
  const ofRun = folderClient.files[':run'];
  const path =
    file === undefined
      ? ofRun.$path(inRun(run))
      : ofRun[':file'].$path({ param: { run: part(run), file: part(file) } });
  return `${path}?key=${serverKey()}`;
}

/** The address of papers of a run in one PDF; `query` says which. */
export function printAddress(run: string, query: PrintQuery): string {
  const asked = { ...query, key: serverKey() };
  return folderClient.files[':run'].print.$path({ ...inRun(run), query: asked });
}

type PrintQuery = Parameters<(typeof folderClient.files)[':run']['print']['$get']>[0]['query'];
