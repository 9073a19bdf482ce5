import { compareStatement } from '../../api/calc/settlement/compare-statement.ts';
import type { SettlementInput } from '../../api/calc/settlement/input.ts';
import { settle } from '../../api/calc/settlement/settle.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import { paymentDueOn } from '../../api/calc/terms/payment-due.ts';
import { termsSentences } from '../../api/calc/terms/terms-sentences.ts';
import { paintReport } from '../../reports/pdf/paint-report.ts';
import { statementReport } from '../../reports/model/statement-report.ts';
import { inventedParcel } from './invented-parcels.ts';
import { firstAndBest, rounded, table } from './report-table.ts';
import { sectionOf } from './section.ts';
import { peakMb, stopwatch, timed, timedAsync, type Time } from './timing.ts';

const PARCELS = 10_000;
const STATEMENTS = 60;
const WARM_AFTER = 20;
const ARCHIVED = 500;

/** Parcels of one contract that arrive in two months, so that they share its quotations as those of a season do. */
function parcelOfSeason(number: number): SettlementInput {
  const parcel = inventedParcel(number);
  const day = String(1 + (number % 28)).padStart(2, '0');
  const month = number % 2 === 0 ? '04' : '05';
  return { ...parcel, dates: { ...parcel.dates, arrivedOn: `2026-${month}-${day}` } };
}

function measureParcels() {
  const parcels = Array.from({ length: PARCELS }, (_, number) => parcelOfSeason(number));
  let lines = 0;
  const runs: Time[] = [];
  for (let run = 0; run < 4; run += 1) {
    const [settled, time] = timed(() => parcels.map(settledInBrief));
    lines = settled.reduce((sum, one) => sum + one, 0);
    runs.push(time);
  }
  return { runs, linesPerParcel: lines / PARCELS, peakMb: peakMb() };
}

/** How many lines a parcel's statement has; a blocker would mean that less was worked out than is said. */
function settledInBrief(parcel: SettlementInput): number {
  const { lines, findings } = settle(parcel);
  if (findings.some(({ level }) => level === 'blocker')) throw new Error('A parcel could not be settled.');
  return lines.length;
}

/** The contract cut to what a small mill's usually has: two metals, treatment, freight and one penalty. */
function plain(input: SettlementInput): SettlementInput {
  const { terms, parcel } = input;
  return {
    ...input,
    terms: {
      ...terms,
      metals: terms.metals.slice(0, 2),
      charges: terms.charges.slice(0, 2),
      penalties: terms.penalties.slice(0, 1),
      credits: [],
      royalties: [],
    },
    parcel: parcel.kind === 'dore' ? parcel : { kind: 'concentrate', sublots: parcel.sublots.slice(0, 1) },
  };
}

/** The statement as a report, with or without the annexes of the contract's sentences and of its quotations. */
function reportOf(input: SettlementInput, settlement: Settlement, number: number) {
  const { terms, prices } = input;
  return statementReport({
    settlement,
    statement: {
      number: `S-${String(number).padStart(4, '0')}`,
      stage: 'final',
      issuedOn: '2026-07-02',
      supersedes: null,
      isDraft: false,
    },
    seller: { name: 'Invented Mill', addressLines: ['1 Invented Road'] },
    buyer: { name: 'Invented Smelter', addressLines: ['2 Invented Quay'] },
    material: 'concentrate',
    parcelName: `Concentrate ${number}`,
    termsName: 'Invented contract of twenty clauses',
    termsSentences: termsSentences(terms),
    days: [{ event: 'arrival', on: input.dates.arrivedOn }],
    dueOn: paymentDueOn(input),
    quotations: terms.metals.map(({ metal, price }) => ({
      metal,
      unit: `USD/${price.unit}`,
      basis: 'invented daily price',
      rows: (prices.find((one) => one.metal === metal)?.quotations ?? []).slice(0, 22),
    })),
    changeFromPrevious: null,
    provisionalItems: [],
    isDemo: true,
  });
}

async function measurePdfs(shaped: (input: SettlementInput) => SettlementInput) {
  const runs: Time[] = [];
  let pages = 0;
  let lines = 0;
  let kilobytes = 0;
  for (let number = 0; number < STATEMENTS; number += 1) {
    const input = shaped(parcelOfSeason(number));
    const settlement = settle(input);
    const [pdf, time] = await timedAsync(() =>
      paintReport({
        report: reportOf(input, settlement, number),
        page: 'A4',
        createdAt: new Date('2026-07-02T12:00:00Z'),
      }),
    );
    runs.push(time);
    pages = (pdf.toString('latin1').match(/\/Type \/Page\b/g) ?? []).length;
    lines = settlement.lines.length;
    kilobytes = pdf.length / 1000;
  }
  const warm = runs.slice(WARM_AFTER).map(({ cpuMs }) => cpuMs);
  return {
    pages,
    lines,
    kilobytes,
    firstMs: runs[0]?.cpuMs ?? NaN,
    medianMs: warm.toSorted((a, b) => a - b)[Math.floor(warm.length / 2)] ?? NaN,
    bestMs: Math.min(...warm),
  };
}

type Pdfs = Awaited<ReturnType<typeof measurePdfs>>;

/** The buyer's statement of another moisture: every line that rests on the mass differs from ours. */
function measureComparison() {
  const times: number[] = [];
  const input = parcelOfSeason(1);
  const { parcel } = input;
  if (parcel.kind !== 'concentrate') throw new Error('The invented parcel is no concentrate.');
  const sublots = parcel.sublots.map((sublot) => ({
    ...sublot,
    moistureFrac: (Number(sublot.moistureFrac) + 0.004).toFixed(4),
  }));
  const theirs = settle({ ...input, parcel: { kind: 'concentrate', sublots } });
  let cause = '';
  for (let run = 0; run < 8; run += 1) {
    const read = stopwatch();
    const { causes } = compareStatement({
      input,
      theirs: theirs.lines
        .filter(({ amount }) => amount !== null)
        .map(({ id, label, amount }) => ({ id, label, amount, result: null })),
      theirTotal: theirs.total,
    });
    times.push(read().cpuMs);
    cause = causes.map(({ sentence }) => sentence).join(' ');
    if (causes.length !== 1) throw new Error('The cause of the difference was not found.');
  }
  return { times, cause };
}

export const settlementSection = sectionOf({
  title: 'Settlement',
  measures: {
    parcels: measureParcels,
    plainPdf: () => measurePdfs(plain),
    fullPdf: () => measurePdfs((input) => input),
    // Loaded only to be measured, because the database and the API are large.
    archive: async () => (await import('./statement-archive.ts')).measureArchive(ARCHIVED),
    comparison: measureComparison,
  },
  write: ({ parcels, plainPdf, fullPdf, archive, comparison }) => {
    const cpu = firstAndBest(parcels.runs, (run) => run.cpuMs);
    const wall = firstAndBest(parcels.runs, (run) => run.wallMs);
    const compared = firstAndBest(comparison.times, (ms) => ms);
    const pdfRow = (name: string, pdf: Pdfs) => [
      `${name}: ${pdf.lines} lines, ${pdf.pages} pages, ${Math.round(pdf.kilobytes)} kB`,
      rounded(pdf.medianMs),
      rounded(pdf.bestMs),
      rounded(pdf.firstMs),
    ];
    return [
      `${PARCELS.toLocaleString('en-US')} invented parcels settled under one contract of twenty clauses (\`tests/bench/invented-parcels.ts\`),`,
      `${Math.round(parcels.linesPerParcel)} lines each with their workings; no two parcels alike, the quotations of two months shared. Best of`,
      `${parcels.runs.length - 1} runs after the first.`,
      '',
      table(
        [`${PARCELS.toLocaleString('en-US')} parcels, ms`, 'best', 'first run'],
        [
          ['Processor time', rounded(cpu.best), rounded(cpu.first)],
          ['By the clock', rounded(wall.best), rounded(wall.first)],
        ],
      ),
      '',
      `Peak memory ${Math.round(parcels.peakMb)} MB, with the runtime and all parcels.`,
      '',
      `Statements painted as tagged PDFs with embedded fonts, each of figures not printed before; ${STATEMENTS} of each`,
      `kind, warm after ${WARM_AFTER}.`,
      '',
      table(
        ['One PDF, ms of processor time', 'median', 'best', 'first of all'],
        [pdfRow('Usual contract', plainPdf), pdfRow('Twenty clauses', fullPdf)],
      ),
      '',
      `${archive.files} issued statements of ${archive.lines} lines downloaded as one archive from the program over its embedded`,
      'database, read as the page does that counts the files as they come:',
      '',
      table(
        ['Archive', 'measured'],
        [
          ['By the clock', `${(archive.time.wallMs / 1000).toFixed(1)} s`],
          ['Processor time', `${(archive.time.cpuMs / 1000).toFixed(1)} s`],
          ['Processor time of one statement', `${rounded(archive.time.cpuMs / archive.files)} ms`],
          ['Size', `${(archive.bytes / 1e6).toFixed(1)} MB`],
          ['Files counted while it came', `${archive.counted}`],
          ['Others waited, half of them at most', `${rounded(archive.medianWaitMs)} ms by the clock`],
          ['Others waited, longest', `${rounded(archive.longestWaitMs)} ms by the clock`],
          ['Memory grew while it was sent by', `${Math.round(archive.mostMb - archive.beforeMb)} MB`],
        ],
      ),
      '',
      'Between two statements others are answered; the first of all also reads the fonts, as in the table above.',
      '',
      'A buyer’s statement held against ours, worked with another moisture, until the cause is found:',
      `${rounded(compared.best)} ms of processor time at best, ${rounded(compared.first)} ms the first time (“${comparison.cause}”).`,
    ].join('\n');
  },
});
