/**
 * How long all papers of a run take, for 30 sets of the demo as one order and as 30: `npm run bench:papers`,
 * or with another number of sets behind it. Where Chromium is there, the run sheet as PDF is held against
 * Chromium printing the same sheet from HTML.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { laidRun, ordersOf, runFacts } from '../../src/jobs/cut.ts';
import { readJob } from '../../src/run/job.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import { paperHtml } from '../../src/papers/documents/document-html.ts';
import { paperPdf } from '../../src/papers/documents/document-pdf.ts';
import { runPapers } from '../../src/papers/papers.ts';
import type { RunFacts } from '../../src/papers/facts/run-facts.ts';
import { runSheet } from '../../src/papers/sheets/sheet.ts';
import { machineFiles } from '../../src/jobs/run-files.ts';

const root = join(import.meta.dirname, '../..');
const chromium = '/usr/bin/chromium';
const sets = Number(process.argv[2] ?? 30);

const folder = mkdtempSync(join(tmpdir(), 'pileway-bench-'));
try {
  cpSync(join(root, 'patterns/fenlark'), join(folder, 'fenlark'), { recursive: true });
  await benchPapers('one order', [
    `{ order: A, set: fenlark, hand: LHD, carpet: { colour: sand }, quantity: ${sets} }`,
  ]);
  const orders = Array.from(
    { length: sets },
    (_, i) =>
      `{ order: A${i}, set: fenlark, hand: ${i % 2 === 0 ? 'LHD' : 'RHD'}, carpet: { colour: sand } }`,
  );
  await benchPapers(`${sets} orders`, orders);
} finally {
  rmSync(folder, { recursive: true });
}

async function benchPapers(what: string, orders: readonly string[]): Promise<void> {
  const facts = await factsOf(orders);
  const start = performance.now();
  const files = await runPapers(facts);
  const seconds = (performance.now() - start) / 1000;
  const bytes = [...files.values()].reduce((sum, { length }) => sum + length, 0);
  const memory = process.memoryUsage().rss / 2 ** 20;
  console.log(
    `${sets} sets, ${what}: ${files.size} files, ${(bytes / 1e6).toFixed(1)} MB, ${seconds.toFixed(2)} s, ${memory.toFixed(0)} MB of memory`,
  );
  await againstChromium(facts);
}

async function factsOf(lines: readonly string[]): Promise<RunFacts> {
  const runFile = join(folder, 'bench.yaml');
  const list = lines.map((order) => `  - ${order}\n`).join('');
  writeFileSync(runFile, `title: bench\ncutter: long-bay\norders:\n${list}`);
  const job = readJob(runFile, join(root, 'shared'));
  const lays = await layMaterials(job, { limit: { rounds: 1 } });
  const orders = ordersOf(job);
  const run = laidRun(job, orders, lays, 'bench', undefined);
  return runFacts(job, orders, run, await machineFiles(run));
}

async function againstChromium(facts: RunFacts): Promise<void> {
  const paper = runSheet(facts);
  const start = performance.now();
  await paperPdf(paper);
  const own = performance.now() - start;
  if (!existsSync(chromium)) {
    console.log(`  run sheet as PDF: ${own.toFixed(0)} ms; no Chromium here to hold it against`);
    return;
  }
  const html = join(folder, 'sheet.html');
  writeFileSync(html, paperHtml(paper));
  const before = performance.now();
  const args = ['--headless', '--no-sandbox', '--disable-gpu', '--no-pdf-header-footer'];
  spawnSync(chromium, [...args, `--print-to-pdf=${join(folder, 'x.pdf')}`, `file://${html}`]);
  const theirs = performance.now() - before;
  console.log(
    `  run sheet as PDF: ${own.toFixed(0)} ms, ${(own / theirs).toFixed(2)} of Chromium’s ${theirs.toFixed(0)} ms`,
  );
}
