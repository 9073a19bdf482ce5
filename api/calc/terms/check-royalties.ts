import type { Royalty } from './charge-terms.ts';
import { rises } from './check-levels.ts';
import type { Say } from './check-terms.ts';
import type { Terms } from './terms.ts';

export function checkRoyalties(terms: Terms, say: Say): void {
  terms.royalties.forEach((royalty, index) => checkRoyalty(terms, royalty, index, say));
}

function checkRoyalty(terms: Terms, royalty: Royalty, index: number, say: Say) {
  const path = `/royalties/${index}`;
  if (terms.royalties.findIndex((r) => r.name === royalty.name) !== index) {
    say('blocker', 'royalty-twice', path, `Two royalties are called ${royalty.name}; name them apart.`);
  }
  const levels =
    royalty.rate.kind === 'bands'
      ? royalty.rate.bands.map((band) => band.from)
      : royalty.rate.kind === 'price-steps'
        ? royalty.rate.steps.map((step) => step.from)
        : [];
  if (!rises(levels)) {
    say('blocker', 'levels-not-rising', `${path}/rate`, `The levels of ${royalty.name} must rise.`);
  }
  const metals = [
    ...(royalty.base.kind === 'own-price' ? royalty.base.metals.map((entry) => entry.metal) : []),
    ...(royalty.rate.kind === 'price-steps' ? [royalty.rate.metal] : []),
  ];
  for (const metal of metals) {
    if (!terms.metals.some((m) => m.metal === metal)) {
      say(
        'blocker',
        'royalty-metal-not-priced',
        path,
        `${royalty.name} needs ${metal}, which the contract does not price.`,
      );
    }
  }
  if (royalty.payees.some((payee) => Number(payee.share) <= 0)) {
    say(
      'blocker',
      'payee-share-not-above-zero',
      `${path}/payees`,
      `A share of ${royalty.name} is not above zero.`,
    );
  }
}

/** Taxes: sensible rates, and bases that are there. */
export function checkTaxes({ taxes = [], charges, settledIn }: Terms, say: Say): void {
  taxes.forEach((tax, index) => {
    const path = `/taxes/${index}`;
    if (Number(tax.rateFrac) > 0.5) {
      say(
        'warning',
        'tax-rate-large',
        `${path}/rateFrac`,
        `${tax.name} is ${tax.rateFrac} of its base; 0.19 would be 19 %.`,
      );
    }
    if (tax.base.kind === 'net-value' && settledIn === 'metal') {
      say(
        'note',
        'tax-on-net-of-metal',
        `${path}/base`,
        `${tax.name} is on the net value, but metal is returned: it is reckoned on what is settled in money.`,
      );
    }
    const { base } = tax;
    if (base.kind === 'charges' && base.purposes.length > 0) {
      const missing = base.purposes.filter(
        (purpose) => purpose !== 'refining' && !charges.some((charge) => charge.purpose === purpose),
      );
      if (missing.length > 0)
        say(
          'warning',
          'tax-on-no-charge',
          `${path}/base`,
          `${tax.name} is on charges for ${missing.join(', ')}, of which the contract has none.`,
        );
    }
  });
}
