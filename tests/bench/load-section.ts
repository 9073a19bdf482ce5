import { hasWrk, measureLoad, REQUESTS_OF_AN_HOUR, SEASONS } from './load-run.ts';
import { rounded, table } from './report-table.ts';
import { sectionOf } from './section.ts';

const NO_TOOL = '`wrk` is not installed here, so nothing was measured.';
const SLOWEST_SHOWN = 6;

type Measured = Awaited<ReturnType<typeof measureLoad>> | null;

/** What was measured, or why nothing was. */
function figuresOf(measured: Measured): string[] {
  if (measured === null) return ['no wrk', ...Array.from({ length: 10 }, () => '')];
  if ('missing' in measured) return ['no PostgreSQL', ...Array.from({ length: 10 }, () => '')];
  const { run, startMb, endMb, peakMb, failures } = measured;
  return [
    String(run.requests),
    `${rounded(run.requests / run.seconds)} a second`,
    `${rounded(run.p50Ms)} ms`,
    `${rounded(run.p99Ms)} ms`,
    `${rounded(run.mostMs)} ms`,
    String(run.refused + run.socketErrors + run.timeouts),
    String(failures),
    `${run.written} and ${run.repeated}`,
    `${rounded(startMb)} MB`,
    `${rounded(endMb)} MB`,
    `${rounded(peakMb)} MB`,
  ];
}

const slowest = (measured: Measured): string =>
  measured === null || 'missing' in measured
    ? ''
    : measured.single
        .slice(0, SLOWEST_SHOWN)
        .map(({ address, ms }) => `\`${address.split('?')[0]}\` ${rounded(ms)} ms`)
        .join(', ');

const NAMES = [
  'Requests',
  'Throughput',
  'Half are answered within',
  '99 of 100 within',
  'Slowest',
  'Refused, timed out or broken off',
  'Errors in the program’s log',
  'Prices written, and sent again under their key',
  'Memory at the start',
  'Memory at the end',
  'Most memory since its start',
];

export const loadSection = sectionOf({
  title: 'Load',
  measures: {
    embedded: () => (hasWrk ? measureLoad('embedded') : null),
    server: () => (hasWrk ? measureLoad('server') : null),
  },
  write: ({ embedded, server }) => {
    if (embedded === null && server === null) return NO_TOOL;
    const [left, right] = [figuresOf(embedded), figuresOf(server)];
    return [
      `The built program as a process of its own over the demo and ${SEASONS === 1 ? 'one full season' : `${SEASONS} full seasons`} before it, asked over`,
      `loopback by \`wrk\` with fifty connections that never pause, \`tests/bench/load-mix.lua\`: of a hundred requests 95 read`,
      'what pages read, 5 write a price under an idempotency key, one in five of those twice. A run ends after',
      `${REQUESTS_OF_AN_HOUR.toLocaleString('en-US')} requests (what fifty people ask in an hour who each open a page of four requests a minute) or after`,
      'two minutes. Program, load tool and database share all cores; the daily backup is off.',
      '',
      table(
        ['Load', 'embedded', 'PostgreSQL'],
        NAMES.map((name, place) => [name, left[place] ?? '', right[place] ?? '']),
      ),
      '',
      `Slowest when asked alone, embedded: ${slowest(embedded)}.`,
      ...(server === null || 'missing' in server ? [] : [`PostgreSQL: ${slowest(server)}.`]),
    ].join('\n');
  },
});
