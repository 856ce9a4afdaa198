import { refuse, Refusal } from '../../base/findings.ts';
import type { CutStep } from '../api/cut-steps.ts';
import { rollsToCut } from '../api/cut-steps.ts';
import type { SentMarks } from '../api/cutting.ts';
import type { RunEvent } from '../api/events.ts';
import type { RunFolder } from '../api/files.ts';
import type { FilesToCut } from '../workshop/cut-marks.ts';
import { beginCutting, readCutting, tickStep, untickStep } from '../workshop/cut-marks.ts';
import type { Workshop } from '../workshop/workshop.ts';
import type { Channel } from './events.ts';
import type { RunFolders } from './run-folders.ts';

/** A step of a roll, and the fingerprint of the files that somebody looks at. */
interface SeenStep {
  readonly files: string;
  readonly roll: string;
  readonly step: CutStep;
}

/** What is ticked of run folders while they are cut. Whatever is ticked is told to all windows. */
export interface MarksUnderWay {
  readonly read: (run: string) => Promise<SentMarks>;
  /**
   * Ticks a step. Throws a Refusal where the files are others by now or must not be cut, and as `tickStep`
   * does.
   */
  readonly tick: (run: string, seen: SeenStep) => Promise<void>;
  /** Takes a tick back. Throws a Refusal where the files are others by now, and as `untickStep` does. */
  readonly untick: (run: string, seen: SeenStep) => Promise<void>;
  /** Begins to cut the files with nothing ticked. Throws a Refusal as `tick` does. */
  readonly begin: (run: string, files: string) => Promise<void>;
}

export function openMarks(
  shop: Workshop,
  folders: Pick<RunFolders, 'folder'>,
  events: Pick<Channel<RunEvent>, 'tell'>,
): MarksUnderWay {
  const seen = async (run: string, files: string): Promise<RunFolder> => {
    const folder = await folders.folder(run);
    if (folder.fingerprint === files) return folder;
    return refuse(
      'changed-since',
      'the files of this run were made anew meanwhile.',
      'Look at them first: what was cut before was cut from other files.',
    );
  };
  const done = (run: string): void => events.tell(run, { kind: 'ticked' });
  return {
    read: async (run) => {
      const folder = await folders.folder(run);
      try {
        return { ...readCutting(shop, run, filesToCut(folder)), findings: [] };
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        return { ticks: [], before: [], findings: error.findings };
      }
    },
    tick: async (run, { files, ...step }) => {
      const folder = await seen(run, files);
      refuseUncuttable(folder);
      tickStep(shop, run, filesToCut(folder), step, new Date());
      done(run);
    },
    untick: async (run, { files, ...step }) => {
      untickStep(shop, run, filesToCut(await seen(run, files)), step);
      done(run);
    },
    begin: async (run, files) => {
      const folder = await seen(run, files);
      refuseUncuttable(folder);
      beginCutting(shop, run, filesToCut(folder));
      done(run);
    },
  };
}

function refuseUncuttable({ proven, changes }: RunFolder): void {
  if (proven && changes.length === 0) return;
  refuse(
    'not-proven',
    'these files must not be cut, so nothing of them is ticked.',
    'Read why above, and make the files anew.',
  );
}

function filesToCut(folder: RunFolder): FilesToCut {
  return { fingerprint: folder.fingerprint, rolls: rollsToCut(folder) };
}
