import { Dec } from '../../api/calc/money.ts';
import { gramsPerPound } from '../../api/calc/units.ts';
import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetReportInput } from './charge-sheet-input.ts';
import { formatDecimal, formatRounded } from './format.ts';
import { significantText } from '../charts/number-text.ts';

type MassUnit = ChargeSheetReportInput['massUnit'];

/** Grams as kilograms without zeros at the end: '5000' → '5'. */
export const kgOfG = (massG: string): string => formatDecimal(new Dec(massG).div(1000).toFixed());

/** Kilograms in pounds, to two decimals; the pound is 0.45359237 kg exactly. */
export const poundsOfKg = (massKg: string): string =>
  formatRounded(new Dec(massKg).times(1000).div(gramsPerPound).toFixed(), 2);

/** A weighed or booked mass with its unit; in pounds too where the owner works in them. */
export function massText(massKg: string, massUnit: MassUnit): string {
  const kilograms = `${formatDecimal(massKg)} kg`;
  return massUnit === 'lb' ? `${kilograms} (${poundsOfKg(massKg)} lb)` : kilograms;
}

/** An estimated quantity, to three digits. */
const threeDigits = (value: number): string => significantText(value, 3);

/** An estimated mass. */
export function aboutMassText(massKg: number, massUnit: MassUnit): string {
  const kilograms = `about ${threeDigits(massKg)} kg`;
  return massUnit === 'lb' ? `${kilograms} (${threeDigits((massKg * 1000) / gramsPerPound)} lb)` : kilograms;
}

/** Lead that should come back, with its range. */
export function leadBackText({ low, mode, high }: ChargeSheet['lead']['backKg'], massUnit: MassUnit): string {
  return `${aboutMassText(mode, massUnit)}, between ${threeDigits(low)} and ${threeDigits(high)} kg`;
}

/** How the batch is divided: '12 of 5 kg and a last one of 2.4 kg'. */
function divisionText({ charges }: ChargeSheet): string {
  const [full, last] = charges;
  if (full === undefined) return '';
  const fullText = `${full.count === 1 && last === undefined ? '' : `${full.count} `}of ${kgOfG(full.concentrateG)} kg`;
  return last === undefined ? fullText : `${fullText} and a last one of ${kgOfG(last.concentrateG)} kg`;
}

/** The sentence that a reader in a hurry needs. */
export function sheetSentence({ batch, sheet, massUnit }: ChargeSheetReportInput): string {
  if (sheet === null)
    return `The charge sheet of batch ${batch.code} cannot be made until what is named below has been put right.`;
  const division = divisionText(sheet);
  const charges =
    sheet.chargeCount === 1
      ? `Batch ${batch.code} is one charge ${division}.`
      : sheet.charges.length === 1
        ? `Batch ${batch.code} is ${sheet.chargeCount} charges of ${kgOfG(sheet.charges[0]?.concentrateG ?? '0')} kg.`
        : `Batch ${batch.code} is ${sheet.chargeCount} charges, ${division}.`;
  const hour = (hours: string) => `${formatDecimal(hours)} h`;
  const roast = sheet.roast === null ? '' : `${hour(sheet.roast.hours)} of roasting, `;
  const hours = ` By the treatment it takes ${roast}${hour(sheet.furnaceHours)} of furnace and ${hour(sheet.labourHours)} of labour.`;
  return `${charges}${hours}${leadSentence(sheet, massUnit)}`;
}

function leadSentence({ lead }: ChargeSheet, massUnit: MassUnit): string {
  if (new Dec(lead.inKg).isZero()) return '';
  return ` ${massText(lead.inKg, massUnit)} of lead go in; ${leadBackText(lead.backKg, massUnit)}, should come back.`;
}

/** What heads the column of masses for one size of charge. */
export function chargeHead(charge: ChargeSheet['charges'][number], isLast: boolean): string {
  const size = `${kgOfG(charge.concentrateG)} kg`;
  if (isLast) return `Last charge, ${size}, g`;
  return charge.count === 1 ? `The charge, ${size}, g` : `Each of ${charge.count} charges of ${size}, g`;
}
