import { grouped } from '../money.ts';
import type { Royalty, TaxTerms } from './charge-terms.ts';
import { percentText } from './payable-form.ts';
import type { Terms } from './terms.ts';
import { list } from './words.ts';

function baseWords({ base }: Royalty): string {
  if (base.kind === 'net-smelter-return') return 'the net smelter return';
  if (base.kind === 'gross-value') return 'the gross value';
  const metals = base.metals.map(
    (entry) =>
      `${entry.mass} ${entry.metal} at ${entry.price === null ? 'the quoted price' : grouped(entry.price)}`,
  );
  return list(metals);
}

function rateWords({ rate }: Royalty, currency: string): string {
  if (rate.kind === 'flat') return percentText(rate.rateFrac);
  if (rate.kind === 'bands') {
    return list(
      rate.bands.map((band) => `${percentText(band.rateFrac)} above ${grouped(band.from)} ${currency}`),
    );
  }
  return list(
    rate.steps.map(
      (step) => `${percentText(step.rateFrac)} from a ${rate.metal} price of ${grouped(step.from)}`,
    ),
  );
}

export function royaltySentence(royalty: Royalty, terms: Terms): string {
  const exempt =
    royalty.exemption === null
      ? ''
      : `, the first ${grouped(royalty.exemption)} ${terms.currency} of the base free`;
  const payer =
    royalty.paidBy === 'buyer-withholds' ? 'withheld by the buyer' : 'paid by the seller, not deducted';
  const payees =
    royalty.payees.length === 0
      ? ''
      : ` It is divided: ${list(royalty.payees.map((payee) => `${payee.name} ${payee.share}`))}.`;
  return `${royalty.name}: ${rateWords(royalty, terms.currency)} of ${baseWords(royalty)}${exempt}, ${payer}.${payees}`;
}

const TAXED = { 'payable-value': 'the payable value', 'net-value': 'the net value' } as const;

export function taxSentence({ name, rateFrac, base, effect, isPassedOn }: TaxTerms): string {
  const on =
    base.kind !== 'charges'
      ? TAXED[base.kind]
      : base.purposes.length === 0
        ? 'all charges'
        : `the charges for ${list(base.purposes)}`;
  const how = effect === 'added' ? 'added to what is paid' : 'taken off what is paid';
  const passed = isPassedOn
    ? ' It is passed on or claimed back, and counts neither as gain nor as cost.'
    : '';
  return `${name}: ${percentText(rateFrac)} of ${on}, ${how}.${passed}`;
}
