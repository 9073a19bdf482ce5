import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { AssayRule, SplittingLimit, UmpireRule, UmpireTerms } from './assay-terms.ts';
import { percentText } from './payable-form.ts';
import type { SettlementStage } from './terms.ts';

/** Decimal texts in the unit of the rule, as they were reported. */
export interface AssayResults {
  seller: string | null;
  buyer: string | null;
  umpire: string | null;
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

interface Assayed {
  value: DecimalNumber;
  text: string;
}

function assayed(text: string): Assayed {
  return { value: new Dec(text), text: grouped(text) };
}

function gap(a: Assayed, b: Assayed): DecimalNumber {
  return a.value.minus(b.value).abs();
}

function meanOf(a: Assayed, b: Assayed): { value: DecimalNumber; expression: string } {
  return { value: a.value.plus(b.value).div(2), expression: `(${a.text} + ${b.text}) ÷ 2` };
}

function alone({ value, text }: Assayed): { value: DecimalNumber; expression: string } {
  return { value, expression: text };
}

/**
 * The settlement assay by an umpire rule. Where the umpire's result lies exactly between
 * the parties no one is nearer, and it stands itself: it is the mean of all three. Where
 * the parties are no further from each other than the umpire is from the nearer, the pair
 * with the umpire counts as nearest only if it is at least as close.
 */
function umpireAssay(
  rule: UmpireRule,
  seller: Assayed,
  buyer: Assayed,
  umpire: Assayed,
): { value: DecimalNumber; expression: string } {
  const nearer = gap(seller, umpire).lt(gap(buyer, umpire)) ? seller : buyer;
  const betweenBoth = gap(seller, umpire).eq(gap(buyer, umpire));
  if (rule === 'middle-of-three') {
    return alone([seller, buyer, umpire].sort((a, b) => a.value.cmp(b.value))[1] ?? umpire);
  }
  if (betweenBoth) return alone(umpire);
  if (rule === 'nearer-party') return alone(nearer);
  if (rule === 'mean-of-umpire-and-nearer') return meanOf(nearer, umpire);
  return gap(seller, buyer).lt(gap(nearer, umpire)) ? meanOf(seller, buyer) : meanOf(nearer, umpire);
}

/** The limit of the last band that the mean reaches: absolute, or a part of the mean, the greater of both. */
function limitAt(limits: SplittingLimit[], mean: DecimalNumber): { value: DecimalNumber; text: string } {
  const band = limits.filter(({ fromGrade }) => mean.gte(fromGrade)).at(-1);
  const absolute = new Dec(band?.limit ?? '0');
  if (band?.relativeFrac == null) return { value: absolute, text: absolute.toFixed() };
  const relative = mean.times(band.relativeFrac);
  const value = Dec.max(absolute, relative);
  const part = `${percentText(band.relativeFrac)} of the mean`;
  const shown = grouped(value.toDecimalPlaces(6).toFixed());
  return { value, text: value.eq(absolute) && !absolute.eq(relative) ? shown : `${shown}, ${part}` };
}

const UMPIRE_WORDS: Record<UmpireRule, string> = {
  'middle-of-three': 'the middle of the three',
  'mean-of-nearest-two': 'the mean of the nearest two',
  'mean-of-umpire-and-nearer': 'the mean of the umpire and the nearer party',
  'nearer-party': 'the result of the party nearer to the umpire',
};

function umpireShare(
  umpireTerms: UmpireTerms,
  sellerGap: DecimalNumber,
  buyerGap: DecimalNumber,
): DecimalNumber {
  const borneBy = umpireTerms.costBorneBy;
  if (borneBy === 'seller') return new Dec(1);
  if (borneBy === 'buyer') return new Dec(0);
  const order = sellerGap.cmp(buyerGap);
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
  const [seller, buyer, umpire] = [results.seller, results.buyer, results.umpire].map((result) =>
    result === null ? null : assayed(result),
  );
  const by = rule.settledBy;
  if (by.kind === 'seller' || by.kind === 'buyer') {
    const result = by.kind === 'seller' ? seller : buyer;
    return result ? settled(alone(result), `${by.kind}'s result`) : oneOf(seller, buyer, stage, [by.kind]);
  }
  if (!seller || !buyer) {
    if (by.kind === 'exchange' && by.absentPartyBound && (seller || buyer)) {
      const whose = seller ? "seller's" : "buyer's";
      return settled(
        alone((seller ?? buyer) as Assayed),
        `${whose} result, the other party has not exchanged`,
      );
    }
    return oneOf(seller, buyer, stage, [...(seller ? [] : ['seller']), ...(buyer ? [] : ['buyer'])]);
  }
  if (by.kind === 'mean') return settled(meanOf(seller, buyer), 'mean of both parties');
  const mean = meanOf(seller, buyer);
  const limit = limitAt(by.splittingLimits, mean.value);
  const apart = gap(seller, buyer);
  const compared = `seller ${seller.text}, buyer ${buyer.text}, apart by ${grouped(apart.toFixed())}`;
  if (apart.lte(limit.value))
    return settled(mean, `${compared}, within the splitting limit of ${limit.text}, mean`);
  const beyond = `${compared}, beyond the splitting limit of ${limit.text}`;
  if (!umpire) {
    return stage === 'final'
      ? missing(["the umpire's result"])
      : { ...settled(mean, `${beyond}, provisionally the mean`), provisionalOnly: true };
  }
  const { rule: umpireRule } = by.umpire;
  return {
    ...settled(
      umpireAssay(umpireRule, seller, buyer, umpire),
      `${beyond}, umpire ${umpire.text}, ${UMPIRE_WORDS[umpireRule]}`,
    ),
    sellerUmpireShareFrac: umpireShare(by.umpire, gap(seller, umpire), gap(buyer, umpire)),
  };
}

function settled(
  { value, expression }: { value: DecimalNumber; expression: string },
  reason: string,
): SettledAssay {
  return {
    value,
    reason,
    expression,
    sellerUmpireShareFrac: null,
    missing: null,
    provisionalOnly: false,
  };
}

function missing(what: string[]): SettledAssay {
  return {
    value: null,
    reason: '',
    expression: '',
    sellerUmpireShareFrac: null,
    missing: what.join(' and '),
    provisionalOnly: false,
  };
}

/** Provisionally the one result that is known stands in; finally what is missing is said. */
function oneOf(
  seller: Assayed | null | undefined,
  buyer: Assayed | null | undefined,
  stage: SettlementStage,
  absent: string[],
): SettledAssay {
  const known = seller ?? buyer;
  if (stage === 'final' || !known) return missing(absent.map((party) => `the ${party}'s result`));
  const whose = seller ? "seller's" : "buyer's";
  return { ...settled(alone(known), `${whose} result, provisionally`), provisionalOnly: true };
}
