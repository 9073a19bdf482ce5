import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';

/** Metal that came in, went out or lies there: a weighing times an assay, with its standard uncertainty [g]. */
export interface MetalAmount {
  label: string;
  metalG: Measured;
  /** Amounts that share a name share an error (one assay, one scale) and are added before they are squared. */
  sharesErrorWith?: string;
}

export interface MetalAccount {
  openingG: Measured;
  inG: Measured;
  outG: Measured;
  /** What must be there: opening + in − out. */
  expectedG: Measured;
  /** What is there by weighing and assay. */
  closingG: Measured;
  /** closing − expected: below zero, metal is missing. */
  unaccountedG: Measured;
  /** Share of opening + in; null where there was none. */
  unaccountedFrac: number | null;
  /** Whether it is more than twice its standard uncertainty. */
  moreThanExplained: boolean;
  findings: Finding[];
}

/**
 * A period's account of one metal by weighing and assay: opening + in − out = closing, and what is unaccounted.
 *
 * unaccounted = closing − (opening + in − out) [g]; u² = Σ over groups that share an error of (Σ ±u)², + Σ u² of
 * the rest, so that a lot that lies there at both ends does not count its own assay twice. It is called more than
 * the scales and assays explain where |unaccounted| > 2u (coverage factor k = 2, JCGM 100:2008, 6.2).
 * Source: opening + in − out = closing is the check-in–check-out principle of metal accounting (AMIRA P754 code of
 * practice, from memory); the uncertainty is JCGM 100:2008, 5.1.2 and 5.2.2 for fully correlated inputs.
 */
export function metalAccount({
  metal,
  opening,
  received,
  released,
  closing,
}: {
  /** For the sentence, such as 'gold'. */
  metal: string;
  opening: readonly MetalAmount[];
  received: readonly MetalAmount[];
  released: readonly MetalAmount[];
  closing: readonly MetalAmount[];
}): MetalAccount {
  const terms = [
    ...signed(closing, 1),
    ...signed(opening, -1),
    ...signed(received, -1),
    ...signed(released, 1),
  ];
  const expected = [...signed(opening, 1), ...signed(received, 1), ...signed(released, -1)];
  const unaccountedG = total(terms);
  const account = {
    openingG: total(signed(opening, 1)),
    inG: total(signed(received, 1)),
    outG: total(signed(released, 1)),
    expectedG: total(expected),
    closingG: total(signed(closing, 1)),
    unaccountedG,
  };
  const handled = account.openingG.value + account.inG.value;
  const moreThanExplained = Math.abs(unaccountedG.value) > 2 * unaccountedG.u;
  return {
    ...account,
    unaccountedFrac: handled > 0 ? unaccountedG.value / handled : null,
    moreThanExplained,
    findings: moreThanExplained ? [unexplained(metal, unaccountedG)] : [],
  };
}

type Term = MetalAmount & { sign: 1 | -1 };

function signed(amounts: readonly MetalAmount[], sign: 1 | -1): Term[] {
  return amounts.map((amount) => ({ ...amount, sign }));
}

function total(terms: readonly Term[]): Measured {
  let value = 0;
  let alone = 0;
  const together = new Map<string, number>();
  for (const { metalG, sharesErrorWith, sign } of terms) {
    value += sign * metalG.value;
    if (sharesErrorWith === undefined) alone += metalG.u ** 2;
    else together.set(sharesErrorWith, (together.get(sharesErrorWith) ?? 0) + sign * metalG.u);
  }
  return { value, u: Math.sqrt(alone + [...together.values()].reduce((sum, u) => sum + u * u, 0)) };
}

function unexplained(metal: string, { value, u }: Measured): Finding {
  const grams = (g: number): string => `${Number(Math.abs(g).toPrecision(3))} g`;
  return {
    code: 'metal-unaccounted',
    level: 'warning',
    path: '',
    sentence:
      `${grams(value)} of ${metal} ${value < 0 ? 'are missing' : 'are there beyond what came in'}, more than scales and ` +
      `assays explain (± ${grams(2 * u)}). Look first for matte, slag, sweepings or a bar that is not on the books, then for an assay that does not belong to its sample.`,
  };
}
