import { governed } from '../../api/calc/smelting/cautions.ts';
import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetReportInput } from './charge-sheet-input.ts';
import { countsStock, needTable, unpricedNames, weighOutTable } from './charge-sheet-tables.ts';
import { aboutMassText, kgOfG, leadBackText, massText, sheetSentence } from './charge-sheet-words.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate, formatDecimal, formatEstimate } from './format.ts';
import { findingNotices, notice } from './notices.ts';
import { recipeEffectTable } from './recipe-effect-table.ts';
import type { Block, Report } from './report.ts';
import { weighingSheetBlocks } from './weighing-sheet.ts';

/**
 * The charge sheet of a batch as a report: how many charges and what they take in one sentence, everything to
 * weigh out, what goes in and comes back, what the recipe will do, what has to be at hand, the work in its
 * order, the cautions, and a blank weighing sheet.
 */
export function chargeSheetReport(input: ChargeSheetReportInput): Report {
  const { batch, treatmentName, millName, asOf, sheet } = input;
  return {
    title: 'Charge sheet',
    subtitle: `Batch ${batch.code} · ${treatmentName} · ${millName}`,
    runningHead: `Charge sheet, batch ${batch.code}, as of ${formatDate(asOf)}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      { kind: 'lead', text: sheetSentence(input) },
      ...(sheet === null ? [] : cautionPointer(sheet)),
      ...findingNotices(input.findings.filter(({ level }) => level === 'blocker')),
      ...findingNotices(input.findings.filter(({ level }) => level === 'warning')),
      identity(input),
      ...(sheet === null ? [] : sheetBlocks(input, sheet)),
    ],
  };
}

function sheetBlocks(input: ChargeSheetReportInput, sheet: ChargeSheet): Block[] {
  return [
    { kind: 'heading', text: 'Weigh out' },
    weighOutTable(sheet, input.massUnit),
    {
      kind: 'paragraph',
      text: `${sheet.rounding}${sheet.roast === null ? '' : ' The concentrate is weighed before the roast; all the calcine of a charge then goes into its crucible, whatever it weighs.'}`,
    },
    { kind: 'heading', text: 'In and out' },
    { kind: 'facts', facts: inAndOut(input, sheet) },
    ...effectBlocks(sheet, input.measuredMatte),
    ...needBlocks(input),
    ...noteBlocks(input),
    { kind: 'heading', text: 'Order of work' },
    { kind: 'steps', steps: sheet.steps },
    ...cautionBlocks(sheet),
    ...weighingSheetBlocks(sheet, input.worked),
  ];
}

/** What nobody must miss, named where the sheet is first looked at; the full words stand at its end. */
function cautionPointer({ cautions }: ChargeSheet): Block[] {
  const titles = cautions.map(({ title }) => title).join('; ');
  return [notice('caution', `Read the cautions on this sheet before you begin: ${titles}.`)];
}

function identity({ batch, lot, treatmentName, asOf, worked, massUnit }: ChargeSheetReportInput): Block {
  return {
    kind: 'facts',
    facts: [
      { label: 'Batch', value: `${batch.code}, planned on ${formatDate(batch.plannedOn)}` },
      { label: 'Lot', value: lot.description === '' ? lot.code : `${lot.code}: ${lot.description}` },
      { label: 'Treatment', value: `${treatmentName}, recipe as of ${formatDate(asOf)}` },
      { label: 'Dry mass', value: massText(worked.dryMassKg, massUnit) },
    ],
  };
}

function inAndOut({ worked, massUnit }: ChargeSheetReportInput, sheet: ChargeSheet) {
  const { lead, roast, crucibles, cupels, fuel } = sheet;
  const about = (massKg: number) => aboutMassText(massKg, massUnit);
  const facts: [label: string, value: string | null][] = [
    ['Lead in, as metal and in litharge', massText(lead.inKg, massUnit)],
    [
      'Lead back, by the treatment’s lead return',
      Number(lead.inKg) > 0 ? leadBackText(lead.backKg, massUnit) : null,
    ],
    ['Iron', Number(sheet.ironKg) > 0 ? massText(sheet.ironKg, massUnit) : null],
    [
      'Crucibles',
      crucibles &&
        `${crucibles.count} × ${crucibles.name}, at ${formatEstimate(crucibles.lifeCharges, 0)} charges each`,
    ],
    ['Cupels', cupels && `${cupels.count} × ${cupels.name}`],
    ['Fuel', fuel && `${formatDecimal(fuel.total)} ${fuel.unit} of ${fuel.name}`],
    [
      'Roast pans',
      roast &&
        `${roast.panLoads} pan loads${worked.roastPanKg === null ? ', one for each charge' : ` of at most ${formatDecimal(String(worked.roastPanKg))} kg`}`,
    ],
    ['Roasting', roast && `${formatDecimal(roast.hours)} h`],
    [
      'Calcine of a full charge, dead roast',
      roast?.calcineKgPerCharge == null ? null : about(roast.calcineKgPerCharge),
    ],
    ['Furnace', `${formatDecimal(sheet.furnaceHours)} h`],
    ['Labour', `${formatDecimal(sheet.labourHours)} h`],
    [
      'Sulfur dioxide given off by the roast',
      roast?.sulfurDioxideKg == null ? null : about(roast.sulfurDioxideKg),
    ],
    [
      'Sulfur dioxide given off by the melt, at most',
      sheet.meltSulfurDioxideKg === null || sheet.meltSulfurDioxideKg < 0.005
        ? null
        : about(sheet.meltSulfurDioxideKg),
    ],
    [
      'Arsenic trioxide given off by the roast',
      (roast?.arsenicTrioxideKg ?? 0) > 0 ? `${about(roast?.arsenicTrioxideKg ?? 0)}: a deadly poison` : null,
    ],
  ];
  return facts.flatMap(([label, value]) => (value === null ? [] : [{ label, value }]));
}

function effectBlocks(sheet: ChargeSheet, measured: ChargeSheetReportInput['measuredMatte']): Block[] {
  const chargeG = Number(sheet.charges[0]?.concentrateG ?? '0');
  if (sheet.work === null) {
    if (measured === null) return [];
    const kg = (frac: number) => formatEstimate((frac * chargeG) / 1000, 2);
    return [
      {
        kind: 'paragraph',
        text: `By ${measured.testCount === 1 ? 'the test smelt' : `the ${measured.testCount} test smelts`} of this lot a charge of ${kgOfG(String(chargeG))} kg gives ${kg(measured.likelyFrac)} kg of matte (${kg(measured.lowFrac)} to ${kg(measured.highFrac)} kg).`,
      },
    ];
  }
  return [
    { kind: 'heading', text: 'What the recipe will do' },
    {
      kind: 'paragraph',
      text: 'Reckoned from the minerals of the lot and from common working values: good for telling a slip and for knowing what to look for, not for settling anything. A test smelt of the same recipe goes before it.',
    },
    recipeEffectTable(sheet.work, {
      caption: `Expected in a charge of ${kgOfG(sheet.charges[0]?.concentrateG ?? '0')} kg`,
      size: 'large',
      measuredMatte: measured && {
        testCount: measured.testCount,
        low: measured.lowFrac * chargeG,
        value: measured.likelyFrac * chargeG,
        high: measured.highFrac * chargeG,
      },
    }),
  ];
}

function needBlocks({ needs, currency, asOf }: ChargeSheetReportInput): Block[] {
  if (needs === null || needs.lines.length === 0) return [];
  const unpriced = unpricedNames(needs);
  const without = unpriced.length === 0 ? '' : ` Not in the sum: ${unpriced.join(', ')}.`;
  return [
    { kind: 'heading', text: 'What to buy' },
    needTable(needs, currency),
    {
      kind: 'paragraph',
      text: `At the prices in force on ${formatDate(asOf)}. ${
        countsStock(needs)
          ? 'What is in stock on that day is taken off, but neither what other batches will take of it nor the lead that comes back; of what was never counted, all is to be bought.'
          : 'This is what the batch takes in all: neither what is on the shelf already nor the lead that comes back is taken off.'
      }${without}`,
    },
  ];
}

function noteBlocks({ findings }: ChargeSheetReportInput): Block[] {
  const notes = findingNotices(findings.filter(({ level }) => level === 'note'));
  return notes.length === 0 ? [] : [{ kind: 'heading', text: 'Notes' }, ...notes];
}

function cautionBlocks({ cautions }: ChargeSheet): Block[] {
  const sources = [
    ...new Set(cautions.flatMap(({ source }) => source.split('; ')).filter((source) => source !== '')),
  ];
  return [
    { kind: 'heading', text: 'Cautions' },
    ...cautions.map(({ title, text }): Block =>
      notice('caution', `${title}. ${text.replace(` ${governed}`, '')}`),
    ),
    {
      kind: 'paragraph',
      text:
        sources.length === 0 ? governed : `${governed} Limits in air as published in: ${sources.join('; ')}.`,
    },
  ];
}
