import { balanceRepeatability, checkBalance, isReal, wrongBy } from '../assay/balance-check.ts';
import { figure } from '../assay/figures.ts';
import { weighingUncertaintyG } from '../assay/weighing.ts';
import type { Balance } from '../assay/weighing.ts';
import type { Finding } from '../finding.ts';
import { lineAt } from '../statistics/line-fit.ts';
import type { BalanceCheckFacts, BalanceFacts } from './records.ts';

/** A mass that is off by more moves the grade by more than a good test knows it: from there on it is a warning. */
const NOTABLE_ERROR_FRAC = 0.005;

/** A balance of the facts by its id. */
export function balanceOf(balances: readonly BalanceFacts[], id: string): BalanceFacts {
  const balance = balances.find((one) => one.id === id);
  if (balance === undefined) throw new RangeError(`balance ${id} is not among the facts`);
  return balance;
}

/** The last check of a kind on or before a day, and the first after it; checks come in any order. */
export function checksAround(
  checks: readonly BalanceCheckFacts[],
  kind: BalanceCheckFacts['kind'],
  on: string,
): { before: BalanceCheckFacts | null; after: BalanceCheckFacts | null } {
  const inOrder = checks
    .filter((check) => check.kind === kind)
    .toSorted((a, b) => (a.checkedOn < b.checkedOn ? -1 : a.checkedOn > b.checkedOn ? 1 : 0));
  return {
    before: inOrder.findLast((check) => check.checkedOn <= on) ?? null,
    after: inOrder.find((check) => check.checkedOn > on) ?? null,
  };
}

/** The check weights of a check with what the balance read. */
export function weightsOf(check: BalanceCheckFacts): { nominalMassG: number; readingG: number }[] {
  return check.readings.flatMap(({ nominalMassG, readingG }) =>
    nominalMassG === null ? [] : [{ nominalMassG, readingG }],
  );
}

/**
 * A balance as it weighed on a day. Its repeatability is the stated one or, where the owner wants it so, that of
 * the last repeat weighing up to the day, else of the first after it; null where there is none, and the stated one
 * stands.
 */
export function balanceOn(
  record: BalanceFacts,
  on: string,
): { balance: Balance; repeatWeighing: BalanceCheckFacts | null } {
  const readabilityG = Number(record.readabilityG);
  const { before, after } = checksAround(record.checks, 'repeat-weighing', on);
  const repeatWeighing = record.repeatabilityFrom === 'checks' ? (before ?? after) : null;
  const worked =
    repeatWeighing &&
    balanceRepeatability({
      readingsG: repeatWeighing.readings.map(({ readingG }) => readingG),
      readabilityG,
    });
  return {
    balance: {
      name: record.name,
      readabilityG,
      repeatabilityG: worked?.repeatabilityG ?? Number(record.repeatabilityG),
    },
    repeatWeighing: worked ? repeatWeighing : null,
  };
}

/** What a check with check weights says of the balance; null for a repeat weighing. */
export function judgeCheck(
  record: BalanceFacts,
  check: BalanceCheckFacts,
): ReturnType<typeof checkBalance> | null {
  if (check.kind !== 'check-weights') return null;
  const { balance } = balanceOn(record, check.checkedOn);
  return checkBalance({ checks: weightsOf(check), ...balance });
}

/**
 * What the checks of a balance say of masses that it weighed on a day: the last check up to that day, and the first
 * after it where the one before found nothing wrong or there was none. `masses` are named as in a sentence.
 */
export function weighedOnFindings({
  record,
  on,
  masses,
  path,
}: {
  record: BalanceFacts;
  on: string;
  masses: readonly { name: string; massG: number }[];
  path: string;
}): Finding[] {
  const { before, after } = checksAround(record.checks, 'check-weights', on);
  const said = before && wrongAt({ record, check: before, masses });
  if (before && said) {
    return [
      {
        code: 'weighed-on-bad-balance',
        level: said.level,
        path,
        sentence: `${record.name} read wrong at its last check before this test, on ${before.checkedOn}: ${said.errors}. Nothing is corrected for it; calibrate the balance and weigh again what can be.`,
      },
    ];
  }
  const later = after && wrongAt({ record, check: after, masses });
  if (!after || !later) return [];
  return [
    {
      code: 'balance-found-wrong-later',
      level: later.level,
      path,
      sentence: `${record.name} read wrong at the check after this test, on ${after.checkedOn}: ${later.errors}. ${before ? `On ${before.checkedOn} it was still right` : 'It was not checked before'}; when it went wrong is not known, so this test may be affected.`,
    },
  ];
}

/** Errors that a check found, at the masses weighed where it gives a line, else at its check weights; null for none. */
function wrongAt({
  record,
  check,
  masses,
}: {
  record: BalanceFacts;
  check: BalanceCheckFacts;
  masses: readonly { name: string; massG: number }[];
}): { errors: string; level: Finding['level'] } | null {
  const judged = judgeCheck(record, check);
  if (judged === null || !judged.findings.some(({ code }) => code === 'balance-reads-wrong')) return null;
  const { errorLine: line } = judged;
  if (line === null) {
    const { balance } = balanceOn(record, check.checkedOn);
    const u = weighingUncertaintyG(balance);
    const errors = weightsOf(check).flatMap(({ nominalMassG, readingG }) => {
      const value = readingG - nominalMassG;
      return isReal({ value, u }, balance.readabilityG)
        ? [`${wrongBy(value)} at ${figure(nominalMassG)} g`]
        : [];
    });
    return { errors: errors.join(', '), level: 'warning' };
  }
  const readabilityG = Number(record.readabilityG);
  const wrong = masses
    .map(({ name, massG }) => ({ name, massG, error: lineAt({ line, x: massG }) }))
    .filter(({ error }) => isReal(error, readabilityG));
  if (wrong.length === 0) return { errors: 'at heavier or lighter loads than this test’s', level: 'note' };
  return {
    errors: wrong
      .map(({ name, massG, error }) => `${wrongBy(error.value)} at ${figure(massG)} g (${name})`)
      .join(', '),
    level: wrong.some(({ massG, error }) => Math.abs(error.value) > NOTABLE_ERROR_FRAC * massG)
      ? 'warning'
      : 'note',
  };
}
