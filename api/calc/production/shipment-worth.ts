import type { Finding } from '../finding.ts';
import { gramsPerTroyOunce } from '../units.ts';

export interface ShippedMetal {
  code: string;
  /** g; null: not known. */
  goldG: number | null;
  silverG: number | null;
}

export interface ShipmentWorth {
  /** By product, in the mill's currency; null where its metal is not known or not quoted. */
  values: (number | null)[];
  value: number;
  findings: Finding[];
}

/** A shipment is held to be insured in full where the sum reaches this share of its estimated value. */
const FULL = 0.995;

const rounded = (amount: number): string =>
  Math.round(amount)
    .toString()
    .replace(/\B(?=(\d{3})+$)/g, ',');

/**
 * What a shipment is worth by the last quotations before any deduction: metal (g) ÷ 31.1034768 × price per troy
 * ounce; and whether it is insured for that. An estimate, never booked. Common practice: metal in transit is insured
 * for its full value.
 */
export function shipmentWorth(shipment: {
  code: string;
  products: readonly ShippedMetal[];
  priceOzt: { Au: number | null; Ag: number | null };
  currency: string;
  /** In the mill's currency; null: not insured. */
  insuredFor: number | null;
}): ShipmentWorth {
  const { products, priceOzt, currency, insuredFor } = shipment;
  const findings: Finding[] = [];
  const values = products.map(({ code, goldG, silverG }, at): number | null => {
    if (goldG === null && silverG === null) {
      findings.push({
        code: 'metal-not-known',
        level: 'note',
        path: `/products/${at}`,
        sentence: `What ${code} holds is not known, so that it counts as nothing in the value of the shipment.`,
      });
      return null;
    }
    const of = (massG: number | null, price: number | null): number =>
      ((massG ?? 0) / gramsPerTroyOunce) * (price ?? 0);
    return of(goldG, priceOzt.Au) + of(silverG, priceOzt.Ag);
  });
  for (const [metal, name, of] of [
    ['Au', 'gold', (one: ShippedMetal) => one.goldG],
    ['Ag', 'silver', (one: ShippedMetal) => one.silverG],
  ] as const)
    if (priceOzt[metal] === null && products.some((one) => (of(one) ?? 0) > 0))
      findings.push({
        code: 'no-quotation',
        level: 'warning',
        path: `/priceOzt/${metal}`,
        sentence: `There is no quotation of ${name} in ${currency} per troy ounce, so that ${name} counts as nothing in the value of the shipment.`,
      });
  const value = values.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  if (value > 0 && insuredFor === null)
    findings.push({
      code: 'not-insured',
      level: 'warning',
      path: '/insuredFor',
      sentence: `Shipment ${shipment.code} is not insured; its metal is worth about ${rounded(value)} ${currency} by the last quotations.`,
    });
  else if (insuredFor !== null && insuredFor < FULL * value)
    findings.push({
      code: 'under-insured',
      level: 'warning',
      path: '/insuredFor',
      sentence: `Shipment ${shipment.code} is insured for ${rounded(insuredFor)} ${currency}, but its metal is worth about ${rounded(value)} ${currency} by the last quotations: ${rounded(value - insuredFor)} ${currency} would be lost with it.`,
    });
  return { values, value, findings };
}
