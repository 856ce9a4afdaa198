import type { Tasks } from '../../base/threads/task.ts';
import { check } from './check.ts';
import { compare } from './compare.ts';
import { cutRun } from './cut.ts';
import {
  draftHalves,
  draftHands,
  draftQuestions,
  draftRuns,
  askedSeam,
  draftSeams,
  editedDraft,
  openedDraft,
  redoneDraft,
  undoneDraft,
} from './draft.ts';
import { folder } from './folder.ts';
import { glance } from './glance.ts';
import { importDrawing } from './import.ts';
import { goneLabels, layFaults, layTable } from './lay-table.ts';
import { lay } from './lay.ts';
import { place } from './place.ts';
import { plan } from './plan.ts';
import { papers, print } from './print.ts';
import { recutParts } from './recut.ts';
import { rehearseProgram } from './rehearse.ts';
import { shopCards } from './shop.ts';
import { sightOfDrawing } from './sight.ts';
import { standing } from './standing.ts';
import { together } from './together.ts';
import { zipFolder } from './zip.ts';

/** Everything that the server has done in a thread, so that it can answer meanwhile. */
export const tasks = {
  shop: shopCards,
  check,
  plan,
  glance,
  table: layTable,
  faults: layFaults,
  'gone-labels': goneLabels,
  together,
  lay,
  place,
  cut: cutRun,
  folder,
  standing,
  rehearse: rehearseProgram,
  compare,
  recut: recutParts,
  sight: sightOfDrawing,
  import: importDrawing,
  zip: zipFolder,
  papers,
  print,
  draft: openedDraft,
  edit: editedDraft,
  undo: undoneDraft,
  redo: redoneDraft,
  questions: draftQuestions,
  hands: draftHands,
  halves: draftHalves,
  'runs-naming': draftRuns,
  seams: draftSeams,
  seam: askedSeam,
} satisfies Tasks;

export type ServerTasks = typeof tasks;
