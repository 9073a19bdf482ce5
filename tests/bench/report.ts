import type { measureDecision, measureInference, Time } from './measure.ts';

type Part = 'decide' | 'breakEvens' | 'drivers';

export interface NumpyMeasured {
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

export interface Measured {
  on: string;
  machine: string;
  oneCore: boolean;
  draws: number;
  inferenceDraws: number;
  decision: ReturnType<typeof measureDecision>;
  inference: ReturnType<typeof measureInference>;
  numpy: NumpyMeasured | { missing: string };
}

const PARTS: Part[] = ['decide', 'breakEvens', 'drivers'];
const PART_WORDS: Record<Part, string> = {
  decide: 'Decision: 26 options ranked, with ranges, chances and regret',
  breakEvens: 'Break-evens of the two best ways, all usual what-ifs',
  drivers: 'Drivers of their difference',
};

const rounded = (ms: number): string => (ms < 10 ? ms.toFixed(1) : Math.round(ms).toString());
const total = (run: Record<Part, Time>, kind: keyof Time) =>
  PARTS.reduce((sum, part) => sum + run[part][kind], 0);

/** The first run, before anything is warm, and the fastest of the others: what the machine can do undisturbed. */
function firstAndBest<Run>(runs: Run[], of: (run: Run) => number): { first: number; best: number } {
  const [first = NaN, ...others] = runs.map(of);
  return { first, best: others.length === 0 ? first : Math.min(...others) };
}

const optionName = ([kind, which, terms]: [string, number, number]): string =>
  kind === 'sale' ? `sale-${which}` : `treatment-${which}/refiner-${terms}`;

/** Largest distance between the two programs' expected net values, in standard errors of their difference. */
export function farthestApart(decision: Measured['decision'], numpy: NumpyMeasured, draws: number): number {
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

/** A table with its columns set out evenly, the first to the left and figures to the right. */
function table(head: string[], rows: string[][]): string {
  const widths = head.map((_, place) => Math.max(3, ...[head, ...rows].map((cells) => cells[place]!.length)));
  const line = (cells: string[]) =>
    `| ${cells.map((cell, place) => (place === 0 ? cell.padEnd(widths[place]!) : cell.padStart(widths[place]!))).join(' | ')} |`;
  const rule = widths.map((width, place) => (place === 0 ? '-'.repeat(width) : `${'-'.repeat(width - 1)}:`));
  return [line(head), line(rule), ...rows.map(line)].join('\n');
}

function decisionTable({ decision, numpy }: Measured): string {
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

function comparison({ decision, numpy, draws }: Measured): string {
  if ('missing' in numpy) return `The comparison with numpy is left out: ${numpy.missing}.`;
  const apart = farthestApart(decision, numpy, draws);
  return [
    `numpy ${numpy.numpy} on Python ${numpy.python}, on one thread, vectorized over the draws; nothing that does not`,
    'change is worked out twice there either. The two programs draw their own random numbers: the expected net values of',
    `the ${numpy.ranked.length} options lie at most ${apart.toFixed(1)} standard errors apart. ${apart < 4.5 ? 'They are the same model.' : 'THEY DO NOT AGREE: the comparison is void.'}`,
    `Of ${decision.breakEvens.length} what-ifs ${turning(decision.breakEvens.map(({ crossings }) => crossings))} turn the order here and ${turning(Object.values(numpy.breakEvens))} in numpy.`,
    `Peak memory of a run: Poursheet ${Math.round(decision.peakMb)} MB, numpy ${Math.round(numpy.peakMb)} MB, each with its runtime.`,
  ].join('\n');
}

/** The report that `npm run bench` prints and keeps in report.md. */
export function report(measured: Measured): string {
  const { on, machine, oneCore, draws, inferenceDraws, decision, inference } = measured;
  const cpu = firstAndBest(inference.runs, (run) => run.cpuMs);
  const wall = firstAndBest(inference.runs, (run) => run.wallMs);
  const core = oneCore ? 'held to one core (`taskset`)' : 'not held to one core: `taskset` is missing';
  return [
    '# What the bench measured',
    '',
    `${on}; ${machine}; Node ${decision.node}; ${core}. Best of ${decision.runs.length - 1} runs after the first; the`,
    'machine was doing other work as well, so processor time says more than the clock. `npm run bench` measures anew.',
    '',
    '## Decision',
    '',
    `${draws.toLocaleString('en-US')} draws; 8 invented treatments × 3 refiners of the bar and 2 buyers of the concentrate,`,
    'under compiled contracts (`tests/bench/invented-decision.ts`). Every random column is drawn anew in each run.',
    '',
    decisionTable(measured),
    '',
    comparison(measured),
    '',
    '## Grade and recovery inferred together',
    '',
    `${inferenceDraws.toLocaleString('en-US')} draws; 6 treatments, 2 metals, 40 results of each metal (30 test smelts, 10 lab assays);`,
    `${inference.points.toLocaleString('en-US')} points of quadrature.`,
    '',
    table(
      ['Inference, ms', 'best', 'first run'],
      [
        ['Processor time', rounded(cpu.best), rounded(cpu.first)],
        ['By the clock', rounded(wall.best), rounded(wall.first)],
      ],
    ),
    '',
    `Peak memory ${Math.round(inference.peakMb)} MB, with the runtime.`,
    '',
  ].join('\n');
}
