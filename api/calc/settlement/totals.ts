import { dayWords } from '../day-words.ts';
import { Dec } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { paymentDueOn } from '../terms/payment-due.ts';
import { bare, figure, shown, type Figure } from './figure.ts';
import { payableValue } from './payable-value.ts';
import { interestOn } from './interest.ts';
import { exchangeRate } from './quoted-price.ts';
import { addLine, amountsIn, blocker, money, note, type SettlementRun } from './run.ts';
import { WORKED_SECTIONS } from './taxes.ts';

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
  const worth = withTaxes(run, net);
  heldBack(run);
  previousPayments(run);
  const sum = amountsIn(run, ...WORKED_SECTIONS, 'taxes', 'previous');
  const total = money(run, sum);
  const more = run.lines.filter((line) => line.section === 'previous' && line.amount !== null);
  const terms = [
    { text: bare(money(run, worth.value.abs())), negative: worth.value.isNegative() },
    ...more.map((line) => {
      const amount = new Dec(line.amount ?? 0);
      return { text: bare(money(run, amount.abs())), negative: amount.isNegative() };
    }),
  ];
  addLine(run, {
    id: 'total/total',
    section: 'total',
    label: dueLabel(run, total.value.lt(0)),
    working: `${signedSum(terms)} = ${shown(total)}`,
    result: total,
  });
  if (total.value.lt(0)) {
    const { seller, buyer } = parties(run);
    note(
      run,
      'total-below-zero',
      '',
      `The statement comes to ${shown(total)}: the ${seller} owes the ${buyer}.`,
    );
  }
  paidInOtherCurrency(run, total.value);
}

/** Net value and taxes together, on a line of its own where there are taxes. */
function withTaxes(run: SettlementRun, net: Figure): Figure {
  const taxes = run.lines.filter((line) => line.section === 'taxes');
  if (taxes.length === 0) return net;
  const value = money(run, net.value.plus(amountsIn(run, 'taxes')));
  addLine(run, {
    id: 'previous/with-taxes',
    section: 'previous',
    label: 'Net value with taxes',
    working: `${signedSum(
      [net.text, ...taxes.map(({ amount }) => amount ?? '0')].map((text) => ({
        text: bare(money(run, new Dec(text).abs())),
        negative: text.startsWith('-'),
      })),
    )} = ${shown(value)}`,
    result: value,
  });
  return value;
}

function parties({ terms }: SettlementRun): { seller: string; buyer: string } {
  return terms.direction === 'we-toll'
    ? { seller: 'customer', buyer: 'mill' }
    : { seller: 'seller', buyer: 'buyer' };
}

/** Who owes whom, and by when where the contract says and the day is known. */
function dueLabel(run: SettlementRun, reversed: boolean): string {
  const { seller, buyer } = parties(run);
  const due = paymentDueOn({ terms: run.terms, stage: run.input.stage, dates: run.input.dates });
  const by = due === null ? '' : `, by ${dayWords(due)}`;
  return reversed
    ? `Due from the ${seller} to the ${buyer}${by}`
    : `Due from the ${buyer} to the ${seller}${by}`;
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
    terms.of === 'net-value'
      ? amountsIn(run, ...WORKED_SECTIONS, 'taxes')
      : (payableValue(run) ?? new Dec(0));
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
      label: `Less statement ${paid.statementNumber}${paid.paidOn ? ` of ${dayWords(paid.paidOn)}` : ''}`,
      working: shown(amount),
      amount: amount.value.neg(),
    });
    interestOn(run, index);
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
