import { Dec, type DecimalNumber } from '../money.ts';
import type { SettlementLine } from '../settlement/statement.ts';
import type { AccountKindName } from './account-kinds.ts';

/** What of a line the books need. */
export type BookedLine = Pick<SettlementLine, 'id' | 'section' | 'label' | 'amount' | 'result'>;

const CHARGES: Record<string, AccountKindName> = {
  treatment: 'treatment-charge',
  refining: 'refining-charge',
  lot: 'lot-charge',
  sampling: 'sampling',
  assaying: 'assaying',
  umpire: 'assaying',
  representation: 'representation',
  freight: 'freight',
  insurance: 'transit-insurance',
  handling: 'handling',
};
const METALS: Record<string, AccountKindName> = { Au: 'sales-gold', Ag: 'sales-silver' };

export const SALES: readonly AccountKindName[] = ['sales-gold', 'sales-silver', 'sales-other'];

export interface StatementPosition {
  /** Postings by account, debit above zero, without what is due: a statement with all before it. */
  postings: Map<AccountKindName, DecimalNumber>;
  /** What the lines of earlier statements take off, signed as on the statement. */
  earlier: DecimalNumber;
}

/**
 * What a statement, with all that it follows, has come to by account: metal, charges by kind, penalties, credits,
 * royalties and production taxes (withheld, or due from the mill), taxes, what is held back, interest.
 *
 * Every amount stands on the line of the statement; nothing is worked anew. Where the mill buys or treats for others,
 * what it pays for metal is a cost and the charges are its income, and what it holds back it still owes.
 */
export function statementPosition({
  lines,
  millSells,
  productionTaxes,
}: {
  lines: readonly BookedLine[];
  millSells: boolean;
  /** Names of those royalties that are production taxes. */
  productionTaxes: readonly string[];
}): StatementPosition {
  const postings = new Map<AccountKindName, DecimalNumber>();
  let earlier = new Dec(0);
  const book = (account: AccountKindName, amount: DecimalNumber): void => {
    postings.set(account, (postings.get(account) ?? new Dec(0)).plus(amount));
  };
  const isTax = ({ label }: BookedLine): boolean =>
    productionTaxes.some(
      (name) => label === name || label.startsWith(`${name}:`) || label.startsWith(`${name} (`),
    );
  for (const line of lines) {
    const [, part = ''] = line.id.split('/');
    if (line.amount === null) {
      const due = dueFromSeller(line, lines);
      if (due === null || !millSells) continue;
      book(isTax(line) ? 'production-tax' : 'royalty', due);
      book(isTax(line) ? 'production-tax-payable' : 'royalties-payable', due.negated());
      continue;
    }
    // On the statement what the seller gets is above zero: a credit in the seller's books.
    const posting = new Dec(line.amount).times(millSells ? -1 : 1);
    if (line.section === 'previous' && part !== 'held-back' && part !== 'interest')
      earlier = earlier.plus(line.amount);
    else book(accountOf(line, part, millSells, isTax(line)), posting);
  }
  return { postings, earlier };
}

function accountOf(
  { section, amount }: BookedLine,
  part: string,
  millSells: boolean,
  isTax: boolean,
): AccountKindName {
  switch (section) {
    case 'payable':
      return millSells ? (METALS[part] ?? 'sales-other') : 'metal-bought';
    case 'charges':
      return millSells ? (CHARGES[part] ?? 'other-charge') : 'charges-to-customers';
    case 'penalties':
      return millSells ? 'penalty' : 'metal-bought';
    case 'credits':
      return millSells ? 'credit' : 'metal-bought';
    case 'royalties':
      return !millSells ? 'metal-bought' : isTax ? 'production-tax' : 'royalty';
    case 'taxes':
      return new Dec(amount ?? 0).isNegative() === millSells ? 'recoverable-tax' : 'sales-tax-payable';
    case 'previous':
      return part === 'held-back' ? (millSells ? 'receivable-held-back' : 'payable-suppliers') : 'interest';
    case 'weights':
    case 'assays':
    case 'prices':
    case 'total':
      return millSells ? 'other-charge' : 'charges-to-customers';
  }
}

/** A royalty that the seller pays and the statement only shows; null for every other line. */
function dueFromSeller(line: BookedLine, lines: readonly BookedLine[]): DecimalNumber | null {
  if (line.section !== 'royalties' || line.result === null || line.id.split('/').length !== 2) return null;
  const isWithheld = lines.some(
    ({ id, amount }) =>
      amount !== null && id.startsWith(`${line.id}/`) && /^\d+$/.test(id.slice(line.id.length + 1)),
  );
  return isWithheld ? null : new Dec(line.result.value);
}
