import type { InquiryCosts } from '../../../api/calc/facts/inquiries.ts';
import { USUAL_INQUIRY_COSTS } from '../../../api/calc/facts/inquiries.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { differingFrom, valuesFrom } from '../../lib/use-search-state.ts';
import { readWhatIf, startingWhatIf } from './what-if.ts';
import type { WhatIf } from './what-if.ts';

/** What finding something out costs, as typed. */
const startingCosts = {
  assayCost: String(USUAL_INQUIRY_COSTS.labAssay),
  smeltCost: String(USUAL_INQUIRY_COSTS.testSmelt),
  roastCost: String(USUAL_INQUIRY_COSTS.roastTest),
  matteCost: String(USUAL_INQUIRY_COSTS.matteAssay),
  priceCost: String(USUAL_INQUIRY_COSTS.fixedPrice),
};
export type CostName = keyof typeof startingCosts;

/** What-ifs kept as columns, each as the address it would have; '' where none is kept. */
const startingKept = { kept1: '', kept2: '', kept3: '' };
export type KeptName = keyof typeof startingKept;
export const keptNames = Object.keys(startingKept) as KeptName[];

/** The other lots of a blend (`readOthers`). */
const startingBlend = { with: '' };

/** All that the address of the page holds. */
export const startingPage = { ...startingWhatIf, ...startingBlend, ...startingCosts, ...startingKept };
export type PageState = typeof startingPage;

/** The what-if alone, for links and for keeping. */
export function whatIfOf(state: PageState): WhatIf {
  return valuesFrom(startingWhatIf, state);
}

/** The typed costs; null while one of them cannot be read: its field says so. */
export function readCosts(
  state: Pick<PageState, CostName>,
  options: { decimalComma: boolean },
): InquiryCosts | null {
  const read = (typed: string): number | null => {
    const parsed = parseDecimal(typed, options);
    if (!parsed.ok) return null;
    const cost = Number(parsed.decimal ?? 0);
    return cost >= 0 ? cost : null;
  };
  const [labAssay, testSmelt, roastTest, matteAssay, fixedPrice] = [
    read(state.assayCost),
    read(state.smeltCost),
    read(state.roastCost),
    read(state.matteCost),
    read(state.priceCost),
  ];
  if (
    labAssay === null ||
    testSmelt === null ||
    roastTest === null ||
    matteAssay === null ||
    fixedPrice === null
  )
    return null;
  return { labAssay, testSmelt, roastTest, matteAssay, fixedPrice };
}

/** A what-if under a name. The lot and the day are those of the page, whatever they are. */
export interface KeptWhatIf {
  name: string;
  whatIf: Omit<WhatIf, 'lot' | 'on'>;
}

const withoutLot = ({ lot: _lot, on: _on, ...rest }: WhatIf): KeptWhatIf['whatIf'] => rest;
const startingKeptWhatIf = withoutLot(startingWhatIf);

/** A what-if as a text that an address can hold. */
export function writeKept(name: string, whatIf: WhatIf): string {
  return new URLSearchParams({ name, ...differingFrom(startingKeptWhatIf, withoutLot(whatIf)) }).toString();
}

/** The what-if that `writeKept` wrote; null for an empty text. */
export function readKept(written: string): KeptWhatIf | null {
  if (written === '') return null;
  const values = Object.fromEntries(new URLSearchParams(written));
  return { name: values.name ?? '', whatIf: valuesFrom(startingKeptWhatIf, values) };
}

/** Whether something of the what-if that was asked, or one of the masses, cannot be read: its field says what is wrong. */
export function cannotBeRead(
  asked: string,
  masses: readonly string[],
  options: { decimalComma: boolean },
): boolean {
  const [whatIf] = JSON.parse(asked) as [WhatIf];
  return readWhatIf(whatIf, options) === null || masses.some((mass) => !parseDecimal(mass, options).ok);
}
