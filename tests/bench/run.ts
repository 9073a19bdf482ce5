import { execFileSync, spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { columnsForNumpy, lotDraws, modelForNumpy } from './invented-decision.ts';
import { measureDecision, measureInference } from './measure.ts';
import { report, type Measured, type NumpyMeasured } from './report.ts';

/**
 * Measures the decision and the inference on one core: `npm run bench`. Each measurement is a process of its own,
 * held to one core where `taskset` is at hand, so that its peak memory and time are its own.
 */
const DRAWS = 100_000;
const INFERENCE_DRAWS = 20_000;
const REPEATS = 7;

const folder = join(import.meta.dirname, '../../tests/bench');
const hasTaskset = spawnSync('taskset', ['--version']).error === undefined;

/** On one core, the last: the first is the one that most others are put on. */
function onOneCore(program: string, args: string[]): string {
  const [command, rest] = hasTaskset
    ? ['taskset', ['-c', String(cpus().length - 1), program, ...args]]
    : [program, args];
  return execFileSync(command, rest, {
    encoding: 'utf8',
    maxBuffer: 64_000_000,
    env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' },
  });
}

function measureHere<Result>(what: string): Result {
  return JSON.parse(onOneCore(process.execPath, [import.meta.filename, what])) as Result;
}

/** The same model in numpy; null with the reason where there is none. */
function measureNumpy(): NumpyMeasured | { missing: string } {
  const python = spawnSync('python3', ['-c', 'import numpy'], { encoding: 'utf8' });
  if (python.error !== undefined) return { missing: 'there is no python3 here' };
  if (python.status !== 0) return { missing: 'python3 has no numpy here (package python3-numpy)' };
  const work = mkdtempSync(join(tmpdir(), 'poursheet-bench-'));
  try {
    const drawsFile = join(work, 'draws.bin');
    const file = openSync(drawsFile, 'w');
    for (const column of columnsForNumpy(lotDraws(DRAWS))) writeSync(file, column);
    closeSync(file);
    const modelFile = join(work, 'model.json');
    writeFileSync(
      modelFile,
      JSON.stringify(modelForNumpy({ drawCount: DRAWS, drawsFile, repeats: REPEATS })),
    );
    return JSON.parse(onOneCore('python3', [join(folder, 'decide_numpy.py'), modelFile])) as NumpyMeasured;
  } finally {
    rmSync(work, { recursive: true });
  }
}

const [, , asked] = process.argv;
if (asked === 'decision') process.stdout.write(JSON.stringify(measureDecision(DRAWS, REPEATS)));
else if (asked === 'inference')
  process.stdout.write(JSON.stringify(measureInference(INFERENCE_DRAWS, REPEATS)));
else {
  const measured: Measured = {
    on: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GB`,
    oneCore: hasTaskset,
    draws: DRAWS,
    inferenceDraws: INFERENCE_DRAWS,
    decision: measureHere('decision'),
    inference: measureHere('inference'),
    numpy: measureNumpy(),
  };
  const text = report(measured);
  writeFileSync(join(folder, 'report.md'), text);
  process.stdout.write(text);
}
