import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { breakEvens } from '../../api/calc/economics/break-even.ts';
import { decideDrawn } from '../../api/calc/economics/decide.ts';
import { drivers } from '../../api/calc/economics/drivers.ts';
import { drawDecision } from '../../api/calc/economics/simulate.ts';
import { bestTwo, columnsForNumpy, inventedDecision, lotDraws, modelForNumpy } from './invented-decision.ts';
import { firstAndBest, rounded, table } from './report-table.ts';
import { benchFolder, onOneCore, sectionOf } from './section.ts';
import { peakMb, timed, type Time } from './timing.ts';

const DRAWS = 100_000;
const REPEATS = 7;

type Part = 'decide' | 'breakEvens' | 'drivers';

interface NumpyMeasured {
  numpy: string;
  python: string;
  runs: Record<Part, Time>[];
  peakMb: number;
  /** Turning points of each what-if. */
  breakEvens: Record<string, number[]>;
  ranked: {
    option: [kind: string, which: number, terms: number];
    mean: number;
    sd: number;
    chance: number;
  }[];
}

type Decision = ReturnType<typeof measureDecision>;
type Numpy = NumpyMeasured | { missing: string };

/** Decision, break-evens and drivers, each time from nothing but the lot's draws. */
function measureDecision(drawCount: number, repeats: number) {
  const draws = lotDraws(drawCount);
  const once = () => {
    const input = inventedDecision(draws);
    const [{ drawn, decision }, decide] = timed(() => {
      const made = drawDecision(input);
      return { drawn: made, decision: decideDrawn(made) };
    });
    const [firstId, secondId] = bestTwo(decision.options);
    const [turns, breakEvenTime] = timed(() => breakEvens({ input, firstId, secondId, drawn }));
    const [shares, driverTime] = timed(() => drivers({ input, firstId, secondId, drawn }));
    return {
      times: { decide, breakEvens: breakEvenTime, drivers: driverTime },
      results: {
        pair: [firstId, secondId],
        ranked: decision.options.map(({ id, netValue: { mean, sd }, chanceBestFrac }) => ({
          option: id,
          mean,
          sd,
          chance: chanceBestFrac,
        })),
        breakEvens: turns.map(({ id, crossings }) => ({ id, crossings })),
        drivers: shares.map(({ id, shareFrac }) => ({ id, shareFrac })),
      },
    };
  };
  const first = once();
  const firstPeakMb = peakMb();
  const others = Array.from({ length: repeats - 1 }, once);
  return {
    node: process.version,
    runs: [first, ...others].map(({ times }) => times),
    peakMb: firstPeakMb,
    ...first.results,
  };
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
    return JSON.parse(
      onOneCore('python3', [join(benchFolder, 'decide_numpy.py'), modelFile]),
    ) as NumpyMeasured;
  } finally {
    rmSync(work, { recursive: true });
  }
}

const PARTS: Part[] = ['decide', 'breakEvens', 'drivers'];
const PART_WORDS: Record<Part, string> = {
  decide: 'Decision: 26 options ranked, with ranges, chances and regret',
  breakEvens: 'Break-evens of the two best ways, all usual what-ifs',
  drivers: 'Drivers of their difference',
};

const total = (run: Record<Part, Time>, kind: keyof Time) =>
  PARTS.reduce((sum, part) => sum + run[part][kind], 0);

const optionName = ([kind, which, terms]: [string, number, number]): string =>
  kind === 'sale' ? `sale-${which}` : `treatment-${which}/refiner-${terms}`;

/** Largest distance between the two programs' expected net values, in standard errors of their difference. */
function farthestApart(decision: Decision, numpy: NumpyMeasured, draws: number): number {
  const ours = new Map(decision.ranked.map((one) => [one.option, one]));
  return Math.max(
    ...numpy.ranked.map(({ option, mean, sd }) => {
      const mine = ours.get(optionName(option));
      if (mine === undefined)
        throw new Error(`numpy has an option ${optionName(option)} that is not in the decision`);
      return Math.abs(mine.mean - mean) / Math.sqrt((mine.sd ** 2 + sd ** 2) / draws);
    }),
  );
}

function decisionTable(decision: Decision, numpy: Numpy): string {
  const cell = (runs: Record<Part, Time>[], of: (run: Record<Part, Time>) => number) => {
    const { first, best } = firstAndBest(runs, of);
    return [rounded(best), rounded(first)];
  };
  const rows: [string, (run: Record<Part, Time>) => number][] = [
    ...PARTS.map((part): [string, (run: Record<Part, Time>) => number] => [
      PART_WORDS[part],
      (run) => run[part].cpuMs,
    ]),
    ['All three', (run) => total(run, 'cpuMs')],
    ['All three, by the clock', (run) => total(run, 'wallMs')],
  ];
  if ('missing' in numpy)
    return table(
      ['Processor time, ms', 'Poursheet, best', 'first run'],
      rows.map(([name, of]) => [name, ...cell(decision.runs, of)]),
    );
  return table(
    [
      'Processor time, ms',
      'Poursheet, best',
      'first run',
      'numpy, best',
      'first run',
      'numpy ÷ Poursheet, best',
    ],
    rows.map(([name, of]) => {
      const ours = firstAndBest(decision.runs, of).best;
      const theirs = firstAndBest(numpy.runs, of).best;
      return [name, ...cell(decision.runs, of), ...cell(numpy.runs, of), (theirs / ours).toFixed(2)];
    }),
  );
}

const turning = (crossings: number[][]): number => crossings.filter(({ length }) => length > 0).length;

function comparison(decision: Decision, numpy: Numpy): string {
  if ('missing' in numpy) return `The comparison with numpy is left out: ${numpy.missing}.`;
  const apart = farthestApart(decision, numpy, DRAWS);
  return [
    `numpy ${numpy.numpy} on Python ${numpy.python}, on one thread, vectorized over the draws; nothing that does not`,
    'change is worked out twice there either. The two programs draw their own random numbers: the expected net values of',
    `the ${numpy.ranked.length} options lie at most ${apart.toFixed(1)} standard errors apart. ${apart < 4.5 ? 'They are the same model.' : 'THEY DO NOT AGREE: the comparison is void.'}`,
    `Of ${decision.breakEvens.length} what-ifs ${turning(decision.breakEvens.map(({ crossings }) => crossings))} turn the order here and ${turning(Object.values(numpy.breakEvens))} in numpy.`,
    `Peak memory of a run: Poursheet ${Math.round(decision.peakMb)} MB, numpy ${Math.round(numpy.peakMb)} MB, each with its runtime.`,
  ].join('\n');
}

export const decisionSection = sectionOf({
  title: 'Decision',
  measures: { decision: () => measureDecision(DRAWS, REPEATS), numpy: measureNumpy },
  write: ({ decision, numpy }) =>
    [
      `${DRAWS.toLocaleString('en-US')} draws; 8 invented treatments × 3 refiners of the bar and 2 buyers of the concentrate,`,
      'under compiled contracts (`tests/bench/invented-decision.ts`). Every random column is drawn anew in each run.',
      `Best of ${REPEATS - 1} runs after the first.`,
      '',
      decisionTable(decision, numpy),
      '',
      comparison(decision, numpy),
    ].join('\n'),
});
