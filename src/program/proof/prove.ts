import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { readDrawing } from '../../drawing/read.ts';
import type { Finding } from '../../base/findings.ts';
import { withdrawnEnding } from '../../base/names.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { biteName } from '../../lay/bites.ts';
import { readText } from '../../base/yaml.ts';
import type { Program } from '../reading/actions.ts';
import type { ExpectedPart } from '../record/expected.ts';
import { expectedParts } from '../record/expected.ts';
import { attempt, firstOfEach } from './faults.ts';
import { proveDry, proveDryAlone } from './prove-dry.ts';
import { proveDrawing } from './prove-dxf.ts';
import { proveDxfForm } from './prove-dxf-form.ts';
import { sequenceFaults } from './prove-sequence.ts';
import { proveLay } from './prove-lay.ts';
import type { Meant } from './prove-program.ts';
import { proveBites, proveProgram } from './prove-program.ts';
import { proveRecord } from './prove-record.ts';
import { axisOf, readProgram } from '../reading/read.ts';
import type { RecordedRun } from '../record/record.ts';
import { readRecorded } from '../record/record.ts';
import type { LayRecord, RunRecord } from '../record/run-record.ts';
import { recordedName } from '../record/run-record.ts';

/**
 * Proves the written files of a run folder: reads run.json again and, for each lay, its drawing and its
 * programs, and compares them. Nothing that is still in memory is believed. No findings: the files may go
 * to the machine. Throws a Refusal if run.json cannot be read.
 */
export function prove(folder: string): Finding[] {
  return firstOfEach(everyFault(folder, readRecorded(folder)));
}

/**
 * All faults that `prove` finds, each in every place where it shows. `recorded`: what the folder's run.json
 * says.
 */
export function everyFault(folder: string, { run, fingerprint }: RecordedRun): Finding[] {
  const file = join(folder, 'run.json');
  return [
    ...proveRecord(run, file),
    ...withdrawnFaults(folder, run),
    ...run.lays.flatMap((lay) => proveMaterial(folder, run, lay, fingerprint)),
  ];
}

/** One fault if programs are withdrawn: they are looked at all the same. */
function withdrawnFaults(folder: string, run: RunRecord): Finding[] {
  if (!run.lays.some((lay) => isWithdrawn(`${join(folder, recordedName(lay))}.nc`))) return [];
  return [
    {
      severity: 'error',
      rule: 'withdrawn',
      message: 'its programs are withdrawn, because an earlier proof found something wrong here.',
      todo: 'Write the folder anew with cut --force.',
      where: { file: folder },
    },
  ];
}

function isWithdrawn(program: string): boolean {
  return !existsSync(program) && existsSync(program + withdrawnEnding);
}

function proveMaterial(
  folder: string,
  run: RunRecord,
  lay: LayRecord,
  fingerprint: string,
): Finding[] {
  const base = join(folder, recordedName(lay));
  const parts = expectedParts(run, lay);
  const { cutter } = run;
  const cut = attempt(() => readProgramFile(`${base}.nc`, cutter));
  return [
    ...drawingFaults(`${base}.dxf`, parts, lay, cutter, cut),
    ...programFaults(base, { run, fingerprint, parts, lay, cutter }, cut),
  ];
}

function drawingFaults(
  file: string,
  parts: readonly ExpectedPart[],
  lay: LayRecord,
  cutter: Cutter,
  cut: ReadProgram,
): Finding[] {
  // R12 cannot state units: then mm are meant. If a header states others, these count.
  const read = attempt(() => readDrawing(file, { setUnits: 'mm' }));
  if ('findings' in read) return [...read.findings];
  const { drawn, inner, findings } = proveDrawing(read.value, parts);
  return [
    ...findings,
    ...proveDxfForm(readText(file, 'drawing'), read.value.entities, cutter, file),
    // What is wrong in one of the two shows as another order, too.
    ...(findings.length === 0 && 'value' in cut
      ? sequenceFaults(drawn, inner, cut.value, file)
      : []),
    ...proveLay(drawn, lay, cutter.face, file),
  ];
}

/** A program as it was read, or why it cannot be. */
type ReadProgram = ReturnType<typeof attempt<Program>>;

function programFaults(base: string, meant: Meant, cut: ReadProgram): Finding[] {
  const { cutter, lay } = meant;
  const dry = attempt(() => readProgramFile(`${base}.dry.nc`, cutter));
  const bites =
    lay.bites.length < 2
      ? []
      : lay.bites.map((_, i) => `${base}.${biteName(i + 1, lay.bites.length)}.nc`);
  const single = attempt(() => bites.map((file) => readProgramFile(file, cutter)));
  const whole = 'findings' in cut ? undefined : proveProgram(cut.value, meant);
  const inWhole = whole?.findings ?? ('findings' in cut ? cut.findings : []);
  const proven = inWhole.length === 0 ? whole?.trace : undefined;
  const { run, fingerprint } = meant;
  const dryMeant = { run, fingerprint, lay, ...(whole === undefined ? {} : { work: whole.work }) };
  return [
    ...inWhole,
    ...('findings' in dry ? dry.findings : proveDryAlone(dry.value, dryMeant)),
    ...('value' in cut && 'value' in dry ? proveDry(dry.value, cut.value, cutter) : []),
    ...('findings' in single
      ? single.findings
      : bites.length > 0
        ? proveBites(single.value, meant, proven)
        : []),
  ];
}

function readProgramFile(file: string, cutter: Cutter): Program {
  // What was withdrawn is looked at still, so that nobody need guess why it was.
  const text = readText(isWithdrawn(file) ? file + withdrawnEnding : file, 'program');
  return readProgram(text, file, axisOf(cutter));
}
