/**
 * How long a large drawing takes from its file to its outlines, beside a reader that stops at entities:
 * 20 MB, 20,000 closed polylines. Each reader runs in a process of its own, best of three.
 * `npm run bench:read`
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const [, script, reader, file] = process.argv;

if (reader === 'ours') {
  const { readDrawing } = await import('../../src/drawing/read.ts');
  const { describeDrawing } = await import('../../src/pattern/first-look/describe.ts');
  const drawing = await timed(() => readDrawing(file!));
  const sight = await timed(() => describeDrawing(drawing.value, new Map(), { gap: 0.05 }));
  report(drawing.ms + sight.ms, sight.value.pieces.length);
} else if (reader === 'dxf-parser') {
  const imported = (await import('dxf-parser')).default;
  // The package's default export is the class itself, whatever its types say.
  const DxfParser = imported as unknown as typeof imported.DxfParser;
  const { value, ms } = await timed(() => new DxfParser().parseSync(readFileSync(file!, 'utf8')));
  report(ms, value!.entities.length);
} else {
  compare();
}

async function timed<T>(work: () => T): Promise<{ value: T; ms: number }> {
  const start = performance.now();
  const value = await work();
  return { value, ms: performance.now() - start };
}

interface Report {
  readonly ms: number;
  readonly count: number;
  readonly mb: number;
}

function report(ms: number, count: number): void {
  process.stdout.write(JSON.stringify({ ms, count, mb: process.resourceUsage().maxRSS / 1024 }));
}

function compare(): void {
  const folder = mkdtempSync(join(tmpdir(), 'pileway-bench-'));
  try {
    const drawing = join(folder, 'large.dxf');
    writeFileSync(drawing, largeDrawing());
    console.log(`drawing: ${(statSync(drawing).size / 1e6).toFixed(1)} MB, 20000 closed polylines`);
    const [ours, other] = (['ours', 'dxf-parser'] as const).map((name) => best(name, drawing));
    for (const [name, { ms, count, mb }] of [
      ['to outlines', ours!],
      ['dxf-parser, to entities', other!],
    ] as const) {
      console.log(`${name}: ${count} in ${(ms / 1000).toFixed(2)} s, ${mb.toFixed(0)} MB`);
    }
    console.log(
      `ratio: time ${(ours!.ms / other!.ms).toFixed(2)}, memory ${(ours!.mb / other!.mb).toFixed(2)}`,
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function best(name: string, drawing: string): Report {
  const runs = Array.from({ length: 3 }, () => {
    const args = ['--import', 'tsx', script!, name, drawing];
    const { stdout, stderr, status } = spawnSync(process.execPath, args, { encoding: 'utf8' });
    if (status !== 0) throw new Error(stderr);
    return JSON.parse(stdout) as Report;
  });
  return runs.reduce((least, run) => (run.ms < least.ms ? run : least));
}

/** Wavy rings side by side, six decimals. */
function largeDrawing(): string {
  const vertices = 33;
  const lines = ['0', 'SECTION', '2', 'HEADER', '9', '$INSUNITS', '70', '4', '0', 'ENDSEC'];
  lines.push('0', 'SECTION', '2', 'ENTITIES');
  for (let i = 0; i < 20_000; i++) {
    const [x, y] = [(i % 200) * 300, Math.floor(i / 200) * 300];
    lines.push('0', 'LWPOLYLINE', '8', 'OUTLINE', '90', String(vertices), '70', '1');
    for (let k = 0; k < vertices; k++) {
      const angle = (2 * Math.PI * k) / vertices;
      const radius = 100 + 12 * Math.sin(3 * angle + i);
      lines.push('10', (x + radius * Math.cos(angle)).toFixed(6));
      lines.push('20', (y + radius * Math.sin(angle)).toFixed(6));
    }
  }
  lines.push('0', 'ENDSEC', '0', 'EOF', '');
  return lines.join('\n');
}
