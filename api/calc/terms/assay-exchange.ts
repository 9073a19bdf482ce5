import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { AssayRule, UmpireRule } from './assay-terms.ts';
import type { SettlementStage } from './terms.ts';

export interface AssayResults {
  seller: DecimalNumber | null;
  buyer: DecimalNumber | null;
  umpire: DecimalNumber | null;
}

/** The settlement assay before rounding, how it came about, and who stands the umpire's cost. */
export interface SettledAssay {
  value: DecimalNumber | null;
  /** In words, before the arithmetic. */
  reason: string;
  expression: string;
  /** Part of the umpire's cost that falls on the seller, 0 to 1; null where no umpire was used. */
  sellerUmpireShareFrac: DecimalNumber | null;
  /** What is missing, as an end of the sentence 'the assay of Au needs …'; null where settled. */
  missing: string | null;
  /** Settled in a way that only a provisional statement may use. */
  provisionalOnly: boolean;
}

const text = (value: DecimalNumber) => grouped(value.toFixed());

function umpireAssay(
  rule: UmpireRule,
  seller: DecimalNumber,
  buyer: DecimalNumber,
  umpire: DecimalNumber,
): { value: DecimalNumber; expression: string } {
  const sellerGap = seller.minus(umpire).abs();
  const buyerGap = buyer.minus(umpire).abs();
  const nearer = sellerGap.lt(buyerGap) ? seller : buyer;
  const meanOf = (a: DecimalNumber, b: DecimalNumber) => ({
    value: a.plus(b).div(2),
    expression: `(${text(a)} + ${text(b)}) ÷ 2`,
  });
  if (rule === 'middle-of-three') {
    const middle = [seller, buyer, umpire].sort((a, b) => a.cmp(b))[1] ?? umpire;
    return { value: middle, expression: text(middle) };
  }
  // Exactly between the parties no one is nearer: the umpire's result is the mean of all three.
  if (sellerGap.eq(buyerGap) && !seller.eq(buyer)) return { value: umpire, expression: text(umpire) };
  if (rule === 'nearer-party') return { value: nearer, expression: text(nearer) };
  if (rule === 'mean-of-umpire-and-nearer') return meanOf(nearer, umpire);
  const nearestGap = Dec.min(sellerGap, buyerGap);
  return seller.minus(buyer).abs().lt(nearestGap) ? meanOf(seller, buyer) : meanOf(nearer, umpire);
}

const UMPIRE_WORDS: Record<UmpireRule, string> = {
  'middle-of-three': 'the middle of the three',
  'mean-of-nearest-two': 'the mean of the nearest two',
  'mean-of-umpire-and-nearer': 'the mean of the umpire and the nearer party',
  'nearer-party': 'the result of the party nearer to the umpire',
};

function umpireShare(rule: AssayRule, results: AssayResults): DecimalNumber | null {
  if (rule.settledBy.kind !== 'exchange') return null;
  const { seller, buyer, umpire } = results;
  if (seller === null || buyer === null || umpire === null) return null;
  const borneBy = rule.settledBy.umpire.costBorneBy;
  if (borneBy === 'seller') return new Dec(1);
  if (borneBy === 'buyer') return new Dec(0);
  const order = seller.minus(umpire).abs().cmp(buyer.minus(umpire).abs());
  if (borneBy === 'shared' || order === 0) return new Dec('0.5');
  return new Dec(order > 0 ? 1 : 0);
}

/**
 * Settles the assay of one element between seller and buyer: one party's result,
 * the mean, or exchange with a splitting limit (a difference not exceeding it is
 * averaged, a greater one goes to the umpire). On a provisional statement what is
 * known stands in; on a final one a missing result is said, not guessed.
 */
export function settleAssay({
  rule,
  results,
  stage,
}: {
  rule: AssayRule;
  results: AssayResults;
  stage: SettlementStage;
}): SettledAssay {
  const { seller, buyer, umpire } = results;
  const settled = (
    value: DecimalNumber,
    reason: string,
    expression: string,
    more: Partial<SettledAssay> = {},
  ): SettledAssay => ({
    value,
    reason,
    expression,
    sellerUmpireShareFrac: null,
    missing: null,
    provisionalOnly: false,
    ...more,
  });
  const absent = (missing: string): SettledAssay => {
    const known = seller ?? buyer;
    if (stage !== 'final' && known !== null) {
      const whose = seller === null ? "buyer's" : "seller's";
      return settled(known, `${whose} result, provisionally`, text(known), { provisionalOnly: true });
    }
    return {
      value: null,
      reason: '',
      expression: '',
      sellerUmpireShareFrac: null,
      missing,
      provisionalOnly: false,
    };
  };
  const by = rule.settledBy;
  if (by.kind === 'seller') {
    return seller === null ? absent("the seller's result") : settled(seller, "seller's result", text(seller));
  }
  if (by.kind === 'buyer') {
    return buyer === null ? absent("the buyer's result") : settled(buyer, "buyer's result", text(buyer));
  }
  if (seller === null || buyer === null) {
    const known = seller ?? buyer;
    if (known !== null && by.kind === 'exchange' && by.absentPartyBound) {
      const whose = seller === null ? "buyer's" : "seller's";
      return settled(known, `${whose} result, the other party has not exchanged`, text(known));
    }
    if (known === null) return absent("the seller's and the buyer's results");
    return absent(seller === null ? "the seller's result" : "the buyer's result");
  }
  const mean = seller.plus(buyer).div(2);
  const meanText = `(${text(seller)} + ${text(buyer)}) ÷ 2`;
  if (by.kind === 'mean') return settled(mean, 'mean of both parties', meanText);
  const band = by.splittingLimits.filter(({ fromGrade }) => mean.gte(fromGrade)).at(-1);
  const limit = new Dec(band?.limit ?? 0);
  const gap = seller.minus(buyer).abs();
  const compared = `seller ${text(seller)}, buyer ${text(buyer)}, apart by ${text(gap)}`;
  if (gap.lte(limit)) {
    return settled(mean, `${compared}, within the splitting limit of ${text(limit)}, mean`, meanText);
  }
  const beyond = `${compared}, beyond the splitting limit of ${text(limit)}`;
  if (umpire === null) {
    if (stage === 'final') return absent("the umpire's result");
    return settled(mean, `${beyond}, provisionally the mean`, meanText, { provisionalOnly: true });
  }
  const { value, expression } = umpireAssay(by.umpire.rule, seller, buyer, umpire);
  return settled(value, `${beyond}, umpire ${text(umpire)}, ${UMPIRE_WORDS[by.umpire.rule]}`, expression, {
    sellerUmpireShareFrac: umpireShare(rule, results),
  });
}
