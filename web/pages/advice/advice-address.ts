import type { AdvisedAmount, AdviceWanted } from '../../../api/calc/smelting/advised-amount.ts';
import { treatmentKinds } from '../../../api/calc/smelting/advised-amount.ts';
import type { MineralShare } from '../../../api/calc/smelting/minerals.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { editableText, parseDecimal } from '../../lib/parse-decimal.ts';

const asProposed = Object.fromEntries(reagentNames.map((reagent) => [reagent, ''])) as Record<
  Reagent,
  string
>;

/** What is asked, as it stands in the address; an amount that is empty there is as proposed. */
export const startingAdvice = {
  lot: '',
  way: 'as it is' as string,
  collector: 'lead' as string,
  button: '30',
  roasted: '100',
  power: '',
  ...asProposed,
};
export type Advice = typeof startingAdvice;

/** Stands in the address for an amount whose field was emptied. */
const emptied = '-';

export const isWay = (text: string): text is AdviceWanted['treatment'] =>
  (treatmentKinds as readonly string[]).includes(text);

/** A typed number between two bounds; null where it is none. */
function numberBetween(typed: string, owner: OwnerChoices, low: number, high: number): number | null {
  const parsed = parseDecimal(typed, owner);
  if (!parsed.ok || parsed.decimal === null) return null;
  const value = Number(parsed.decimal);
  return value >= low && value <= high ? value : null;
}

/** What the adviser is asked; null while a field cannot be read. */
export function wantedOf(
  values: Advice,
  minerals: readonly MineralShare[],
  owner: OwnerChoices,
): AdviceWanted | null {
  const buttonLeadG = numberBetween(values.button, owner, 1, 500);
  const roastedPercent = numberBetween(values.roasted, owner, 0, 100);
  const power = values.power === '' ? null : numberBetween(values.power, owner, -20, 20);
  if (buttonLeadG === null || roastedPercent === null || (values.power !== '' && power === null)) return null;
  return {
    minerals,
    treatment: isWay(values.way) ? values.way : 'as it is',
    collector: values.collector === 'litharge' ? 'litharge' : 'lead',
    buttonLeadG,
    sulfurRoastedFrac: roastedPercent / 100,
    measuredReducingPower: power,
  };
}

/** What an amount's field shows. */
export function amountText(stored: string, proposedG: number, owner: OwnerChoices): string {
  if (stored === emptied) return '';
  if (stored !== '') return stored;
  return proposedG === 0 ? '' : editableText(proposedG, owner);
}

/** What the address keeps of a typed amount. */
export function storedAmount(typed: string, proposedG: number, owner: OwnerChoices): string {
  if (typed === amountText('', proposedG, owner)) return '';
  return typed === '' ? emptied : typed;
}

/** Grams per 100 g as they stand in the fields; `unread` names those that cannot be read. */
export function amountsOf(
  values: Advice,
  proposed: readonly Pick<AdvisedAmount, 'reagent' | 'gramsPerHundredG'>[],
  owner: OwnerChoices,
): { grams: ReadonlyMap<Reagent, string>; unread: Reagent[] } {
  const grams = new Map<Reagent, string>();
  const unread: Reagent[] = [];
  for (const reagent of reagentNames) {
    const proposedG = proposed.find((one) => one.reagent === reagent)?.gramsPerHundredG ?? 0;
    const parsed = parseDecimal(amountText(values[reagent], proposedG, owner), owner);
    if (!parsed.ok || parsed.decimal?.startsWith('-') === true) unread.push(reagent);
    else if (parsed.decimal !== null && Number(parsed.decimal) > 0) grams.set(reagent, parsed.decimal);
  }
  return { grams, unread };
}
