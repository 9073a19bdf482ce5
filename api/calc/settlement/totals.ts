import { addDays, interestDays, isIsoDate } from '../calendar.ts';
import { Dec } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { dateOfEvent } from '../terms/price-period.ts';
import { bare, figure, given, shown } from './figure.ts';
import { payableValue } from './payable-value.ts';
import { exchangeRate } from './quoted-price.ts';
import { addLine, amountsIn, blocker, money, note, type SettlementRun } from './run.ts';

const WORKED_SECTIONS = ['payable', 'charges', 'penalties', 'credits', 'royalties'] as const;

/** Net value, the part held back until final, what was paid before, interest on it, and the total. */
export function workTotals(run: SettlementRun): void {
  const net = money(run, amountsIn(run, ...WORKED_SECTIONS));
  const parts = WORKED_SECTIONS.map((section) => ({ section, sum: amountsIn(run, section) })).filter(
    ({ sum }) => !sum.isZero(),
  );
  addLine(run, {
    id: 'previous/net-value',
    section: 'previous',
    label: 'Net value',
    working: `${signedSum(parts.map(({ section, sum }) => ({ text: `${bare(money(run, sum.abs()))} ${section}`, negative: sum.isNegative() })))} = ${shown(net)}`,
    result: net,
  });
  heldBack(run);
  previousPayments(run);
  const sum = amountsIn(run, ...WORKED_SECTIONS, 'previous');
  const total = money(run, sum);
  const more = run.lines.filter((line) => line.section === 'previous' && line.amount !== null);
  const terms = [
    { text: bare(money(run, net.value.abs())), negative: net.value.isNegative() },
    ...more.map((line) => {
      const amount = new Dec(line.amount ?? 0);
      return { text: bare(money(run, amount.abs())), negative: amount.isNegative() };
    }),
  ];
  addLine(run, {
    id: 'total/total',
    section: 'total',
    label: total.value.lt(0) ? 'Due from the seller to the buyer' : 'Due from the buyer to the seller',
    working: `${signedSum(terms)} = ${shown(total)}`,
    result: total,
  });
  if (total.value.lt(0)) {
    note(run, 'total-below-zero', '', `The statement comes to ${shown(total)}: the seller owes the buyer.`);
  }
  paidInOtherCurrency(run, total.value);
}

function signedSum(parts: { text: string; negative: boolean }[]): string {
  if (parts.length === 0) return '0';
  return parts
    .map(({ text, negative }, index) =>
      index === 0 ? (negative ? `0 − ${text}` : text) : `${negative ? '− ' : '+ '}${text}`,
    )
    .join(' ');
}

function heldBack(run: SettlementRun) {
  const { stage } = run.input;
  if (stage === 'final') return;
  const terms = stage === 'provisional' ? run.terms.provisional : run.terms.secondProvisional;
  if (terms === null) {
    blocker(
      run,
      'no-such-advance',
      '/stage',
      `The contract knows no ${stage.replaceAll('-', ' ')} payment; settle finally, or add it to the terms.`,
    );
    return;
  }
  const base =
    terms.of === 'net-value' ? amountsIn(run, ...WORKED_SECTIONS) : (payableValue(run) ?? new Dec(0));
  const of = money(run, base);
  if (of.value.lte(0)) {
    note(run, 'nothing-to-hold-back', '', 'The value is not above zero, so nothing is held back.');
    return;
  }
  const share = new Dec(1).minus(terms.shareFrac);
  const held = money(run, of.value.times(share));
  addLine(run, {
    id: 'previous/held-back',
    section: 'previous',
    label: `Held back until the final statement: advance ${percentText(terms.shareFrac)} of the ${terms.of === 'net-value' ? 'net value' : 'payable value'}`,
    working: `${shown(of)} × (100 % − ${percentText(terms.shareFrac)}) = ${shown(held)}`,
    quantity: of,
    amount: held.value.neg(),
  });
}

function previousPayments(run: SettlementRun) {
  run.input.previouslyPaid.forEach((paid, index) => {
    const amount = money(run, new Dec(paid.amount));
    addLine(run, {
      id: `previous/${paid.statementNumber}`,
      section: 'previous',
      label: `Paid on statement ${paid.statementNumber}${paid.paidOn ? `, ${paid.paidOn}` : ''}`,
      working: shown(amount),
      amount: amount.value.neg(),
    });
    interestOn(run, index);
  });
}

/** Interest = advance × rate × days ÷ days of the year, on the final statement. */
function interestOn(run: SettlementRun, index: number) {
  const paid = run.input.previouslyPaid[index];
  const { interest } = run.terms;
  if (paid === undefined || interest === null || run.input.stage !== 'final') return;
  if (paid.stage === 'final' || paid.stage === 'adjustment') return;
  const amount = money(run, new Dec(paid.amount));
  if (amount.value.lte(0)) return;
  const paidOn = paid.paidOn ?? null;
  let to: string | null = null;
  if (interest.period.kind === 'until') {
    // An adjustment after the final statement does not lengthen the advance that the final one settled.
    const settledOn = run.input.previouslyPaid.find((p) => p.stage === 'final')?.paidOn ?? null;
    const { event } = interest.period;
    to = event === 'statement' && settledOn !== null ? settledOn : dateOfEvent(event, run.input.dates);
  }
  const fixedDays = interest.period.kind === 'days' ? interest.period.days : null;
  if (paidOn === null || !isIsoDate(paidOn)) {
    if (fixedDays === null || interest.dayCount === '30/360') {
      blocker(
        run,
        'interest-needs-dates',
        `/previouslyPaid/${index}/paidOn`,
        `Interest on statement ${paid.statementNumber} runs from the day it was paid, which is not entered.`,
      );
      return;
    }
  } else if (fixedDays !== null) {
    to = addDays(paidOn, fixedDays);
  }
  if (fixedDays === null && to === null) {
    blocker(
      run,
      'interest-needs-dates',
      '/dates',
      `Interest on statement ${paid.statementNumber} runs until a day that is not known yet.`,
    );
    return;
  }
  const counted =
    fixedDays === null
      ? interestDays({ from: paidOn ?? '', to: to ?? '', dayCount: interest.dayCount })
      : { days: fixedDays, yearDays: interest.dayCount === 'ACT/365' ? 365 : 360 };
  if (counted.days < 0) {
    blocker(
      run,
      'interest-days-negative',
      '/dates',
      `Interest on statement ${paid.statementNumber} would run backwards, from ${paidOn ?? ''} to ${to ?? ''}.`,
    );
    return;
  }
  const exact = amount.value.times(interest.rateFrac).times(counted.days).div(counted.yearDays);
  const due = figure(exact, run.terms.rounding.money, run.terms.currency);
  addLine(run, {
    id: `previous/interest/${paid.statementNumber}`,
    section: 'previous',
    label: `Interest on statement ${paid.statementNumber}, ${interest.dayCount}`,
    working: `${shown(amount)} × ${percentText(interest.rateFrac)} × ${counted.days} days ÷ ${counted.yearDays} = ${shown(due)}`,
    quantity: amount,
    rate: given(new Dec(interest.rateFrac).times(100).toFixed(), 'percent'),
    amount: due.value.neg(),
  });
}

function paidInOtherCurrency(run: SettlementRun, total: InstanceType<typeof Dec>) {
  const { paidIn, currency, rounding } = run.terms;
  if (paidIn === null || paidIn === currency) return;
  const rate = exchangeRate(run, paidIn);
  if (rate === null) return;
  const paid = figure(total.div(rate.value), rounding.money, paidIn);
  addLine(run, {
    id: `total/${paidIn}`,
    section: 'total',
    label: `Paid in ${paidIn}`,
    working: `${shown(money(run, total))} ÷ ${shown(rate)} = ${shown(paid)}`,
    rate,
    result: paid,
  });
}
