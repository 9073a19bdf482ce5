import { Dec } from '../../api/calc/money.ts';
import type { Settlement, SettlementLine, SettlementSection } from '../../api/calc/settlement/statement.ts';
import type { AccountantKind, AccountantRow } from './accountant-row.ts';

const CHARGE_KINDS: Record<string, AccountantKind> = {
  treatment: 'treatment charge',
  refining: 'refining charge',
  lot: 'lot charge',
  sampling: 'sampling',
  assaying: 'assaying',
  umpire: 'assaying',
  representation: 'representation',
  freight: 'freight',
  insurance: 'insurance',
  handling: 'handling',
};

/** Kinds by section; charges are told apart by the second part of the line's id, `charges/freight/…`. */
const SECTION_KINDS: Record<SettlementSection, AccountantKind> = {
  weights: 'other charge',
  assays: 'assaying',
  prices: 'other charge',
  payable: 'sale of metal',
  charges: 'other charge',
  penalties: 'penalty',
  credits: 'credit',
  royalties: 'royalty',
  taxes: 'sales or withholding tax',
  previous: 'earlier statement',
  total: 'other charge',
};

const PREVIOUS_KINDS: Record<string, AccountantKind> = {
  'held-back': 'held back',
  interest: 'interest',
};

function kindOf(line: SettlementLine, taxNames: readonly string[]): AccountantKind {
  const [, purpose = ''] = line.id.split('/');
  if (line.section === 'charges') return CHARGE_KINDS[purpose] ?? 'other charge';
  if (line.section === 'previous') return PREVIOUS_KINDS[purpose] ?? 'earlier statement';
  const isTax = taxNames.some((name) => line.label === name || line.label.startsWith(`${name}:`));
  return line.section === 'royalties' && isTax ? 'production tax' : SECTION_KINDS[line.section];
}

/**
 * The accountant's rows of one issued statement: every line that is money.
 * They add up to the statement's total to the cent; where the mill is the
 * buyer all signs are turned, so that what it pays is negative. The unit price
 * carries the sign of its amount: quantity × unit price is the amount, but for
 * its rounding. Rates that are no price (a share in percent) stay out.
 */
export function statementRows(args: {
  settlement: Settlement;
  number: string;
  issuedOn: string;
  counterparty: string;
  millIs: 'seller' | 'buyer';
  /** Names of those among the statement's royalties that are production taxes. */
  productionTaxes?: readonly string[];
}): AccountantRow[] {
  const { settlement, millIs } = args;
  const sign = millIs === 'seller' ? 1 : -1;
  return settlement.lines.flatMap((line): AccountantRow[] => {
    if (line.amount === null) return [];
    const amount = new Dec(line.amount).times(sign);
    const priced =
      line.quantity !== null &&
      line.rate !== null &&
      line.rate.unit === `${settlement.currency}/${line.quantity.unit}`;
    return [
      {
        date: args.issuedOn,
        documentNumber: args.number,
        documentLine: line.id,
        counterparty: args.counterparty,
        kind: kindOf(line, args.productionTaxes ?? []),
        description: line.label,
        quantity: priced ? (line.quantity?.value ?? null) : null,
        unit: priced ? (line.quantity?.unit ?? '') : '',
        unitPrice: priced ? signedPrice(line.rate?.value ?? '0', amount.isNegative()) : null,
        amount: amount.toFixed(settlement.moneyDecimals),
        currency: settlement.currency,
      },
    ];
  });
}

function signedPrice(price: string, negative: boolean): string {
  const decimals = price.split('.')[1]?.length ?? 0;
  return new Dec(price)
    .abs()
    .times(negative ? -1 : 1)
    .toFixed(decimals);
}
