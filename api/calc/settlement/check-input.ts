import { isIsoDate } from '../calendar.ts';
import type { Finding } from '../finding.ts';
import { isDecimalText } from '../money.ts';
import type { Quotation, SettlementDates, SettlementInput } from './input.ts';

/** Lists of quotations in which nothing is wrong, so that what is settled by the same list does not read it again. */
const soundQuotations = new WeakSet<readonly Quotation[]>();

/** Figures that are no numbers and dates that do not exist, before anything is worked with them. */
export function checkInput(input: SettlementInput): Finding[] {
  const findings: Finding[] = [];
  const number = (text: string | null, path: string, what: string) => {
    if (text === null || isDecimalText(text)) return;
    findings.push({
      code: 'not-a-number',
      level: 'blocker',
      path,
      sentence: `${what} is “${text}”; write a plain decimal number, for example 12.50.`,
    });
  };
  const date = (text: string | null | undefined, path: string, what: string) => {
    if (text === null || text === undefined || isIsoDate(text)) return;
    findings.push({
      code: 'not-a-date',
      level: 'blocker',
      path,
      sentence: `${what} is “${text}”; write an existing date as year-month-day.`,
    });
  };
  const { parcel } = input;
  if (parcel.kind === 'concentrate') {
    parcel.sublots.forEach((sublot, index) => {
      const path = `/parcel/sublots/${index}`;
      number(sublot.grossKg, `${path}/grossKg`, `The gross mass of ${sublot.name}`);
      number(sublot.tareKg, `${path}/tareKg`, `The tare of ${sublot.name}`);
      number(sublot.moistureFrac, `${path}/moistureFrac`, `The moisture of ${sublot.name}`);
    });
  } else {
    parcel.bars.forEach((bar, index) => {
      const path = `/parcel/bars/${index}`;
      number(bar.receivedG, `${path}/receivedG`, `The mass as received of ${bar.name}`);
      number(bar.afterMeltG, `${path}/afterMeltG`, `The mass after melting of ${bar.name}`);
    });
  }
  input.assays.forEach((assay, index) => {
    for (const party of ['own', 'buyer', 'umpire'] as const) {
      number(assay[party], `/assays/${index}/${party}`, `The ${party} assay of ${assay.element}`);
    }
  });
  input.prices.forEach((price, index) => {
    number(price.price, `/prices/${index}/price`, `The price of ${price.metal}`);
    price.options?.forEach((option, o) => {
      number(option.price, `/prices/${index}/options/${o}/price`, `A price of ${price.metal}`);
    });
    if (soundQuotations.has(price.quotations)) return;
    const before = findings.length;
    price.quotations.forEach((quotation, q) => {
      // They are many, and nearly always right: what would be said is made up only for those that are not.
      if (isDecimalText(quotation.price) && isIsoDate(quotation.date)) return;
      const path = `/prices/${index}/quotations/${q}`;
      number(quotation.price, `${path}/price`, `The quotation of ${price.metal} on ${quotation.date}`);
      date(quotation.date, `${path}/date`, `The day of a quotation of ${price.metal}`);
    });
    if (findings.length === before) soundQuotations.add(price.quotations);
  });
  input.exchangeRates?.forEach((rate, index) => {
    number(rate.rate, `/exchangeRates/${index}/rate`, `The exchange rate of ${rate.currency}`);
    date(rate.date, `/exchangeRates/${index}/date`, `The day of the exchange rate of ${rate.currency}`);
    if (isDecimalText(rate.rate) && Number(rate.rate) <= 0) {
      findings.push({
        code: 'exchange-rate-not-above-zero',
        level: 'blocker',
        path: `/exchangeRates/${index}/rate`,
        sentence: `The exchange rate of ${rate.currency} is ${rate.rate}; it must be more than zero.`,
      });
    }
  });
  input.previouslyPaid.forEach((paid, index) => {
    const path = `/previouslyPaid/${index}`;
    number(paid.amount, `${path}/amount`, `The amount paid on statement ${paid.statementNumber}`);
    date(paid.paidOn, `${path}/paidOn`, `The day statement ${paid.statementNumber} was paid`);
  });
  input.agreedItems?.forEach((item, index) => {
    number(item.amount, `/agreedItems/${index}/amount`, `The amount of ${item.name}`);
  });
  input.royaltyBasesToDate?.forEach((base, index) => {
    number(base.amount, `/royaltyBasesToDate/${index}/amount`, `The earlier base of ${base.name}`);
  });
  for (const name of Object.keys(input.dates) as (keyof SettlementDates)[]) {
    date(input.dates[name], `/dates/${name}`, `The date ${name}`);
  }
  return findings;
}
