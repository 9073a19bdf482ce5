import { Decimal } from 'decimal.js';
import type { Settlement, SettlementLine } from '../../api/calc/settlement/statement.ts';
import type { SeasonReportInput } from '../../reports/model/season-input.ts';
import type { Party, StatementReportInput } from '../../reports/model/statement-input.ts';

// All companies, parcels and figures here are invented.

export const SELLER: Party = {
  name: 'Fernhollow Bench Mill (invented)',
  addressLines: ['Track 4, Upper Fernhollow', 'Imaginary County'],
};
export const BUYER: Party = {
  name: 'Ostrander Vale Ore Buyers (invented)',
  addressLines: ['1 Weighbridge Road', 'Ostrander Vale'],
};

type LineInput = Pick<SettlementLine, 'id' | 'section' | 'label'> & Partial<SettlementLine>;

export function line(input: LineInput): SettlementLine {
  return { working: '', quantity: null, rate: null, result: null, amount: null, ...input };
}

export function settlementOf(lines: SettlementLine[]): Settlement {
  const total = lines.reduce((sum, { amount }) => sum.plus(amount ?? 0), new Decimal(0));
  return {
    currency: 'USD',
    moneyDecimals: 2,
    lines,
    total: total.toFixed(2),
    roundingRules: [
      'Masses are rounded to 0.1 kg, halves up.',
      'Payable metal is rounded to 3 decimals of a troy ounce, halves up.',
      'Money is rounded to the cent, halves up, once on each line.',
    ],
    findings: [],
  };
}

/** A small parcel of concentrate; every figure was worked with a pocket calculator. */
export const CONCENTRATE_LINES: SettlementLine[] = [
  line({
    id: 'weights/wet',
    section: 'weights',
    label: 'Wet mass',
    working: '1,312.5 kg gross − 62.5 kg tare = 1,250.0 kg wet',
    result: { value: '1250.0', unit: 'kg' },
  }),
  line({
    id: 'weights/dry',
    section: 'weights',
    label: 'Dry mass',
    working: '1,250.0 kg × (1 − 8.40 %) = 1,145.0 kg dry',
    quantity: { value: '1250.0', unit: 'kg' },
    rate: { value: '8.40', unit: '%' },
    result: { value: '1145.0', unit: 'kg' },
  }),
  line({
    id: 'assays/Au',
    section: 'assays',
    label: 'Gold, assays exchanged',
    working:
      'Seller 84.60 g/t, buyer 84.20 g/t, apart by 0.40 g/t, within the splitting limit of 0.50 g/t: mean 84.40 g/t',
    result: { value: '84.40', unit: 'g/t' },
  }),
  line({
    id: 'assays/Ag',
    section: 'assays',
    label: 'Silver, assays exchanged',
    working:
      'Seller 612 g/t, buyer 604 g/t, apart by 8 g/t, within the splitting limit of 15 g/t: mean 608.0 g/t',
    result: { value: '608.0', unit: 'g/t' },
  }),
  line({
    id: 'prices/Au',
    section: 'prices',
    label: 'Gold, mean of 4 quotations',
    working: '10,010.00 ÷ 4 = 2,502.50 USD/ozt',
    result: { value: '2502.50', unit: 'USD/ozt' },
  }),
  line({
    id: 'prices/Ag',
    section: 'prices',
    label: 'Silver, mean of 4 quotations',
    working: '121.20 ÷ 4 = 30.30 USD/ozt',
    result: { value: '30.30', unit: 'USD/ozt' },
  }),
  line({
    id: 'payable/Au',
    section: 'payable',
    label: 'Gold',
    working:
      '84.40 g/t × 96.00 % = 81.0240 g/t payable; × 1,145.0 kg ÷ 1,000 ÷ 31.1035 = 2.983 ozt; × 2,502.50 USD/ozt',
    quantity: { value: '2.983', unit: 'ozt' },
    rate: { value: '2502.50', unit: 'USD/ozt' },
    amount: '7464.96',
  }),
  line({
    id: 'payable/Ag',
    section: 'payable',
    label: 'Silver',
    working:
      '608.0 g/t − 50.0 g/t = 558.0 g/t; × 95.00 % = 530.1000 g/t payable; × 1,145.0 kg ÷ 1,000 ÷ 31.1035 = 19.514 ozt; × 30.30 USD/ozt',
    quantity: { value: '19.514', unit: 'ozt' },
    rate: { value: '30.30', unit: 'USD/ozt' },
    amount: '591.27',
  }),
  line({
    id: 'charges/treatment',
    section: 'charges',
    label: 'Treatment charge',
    working: '1.1450 t dry × 310.00 USD/t',
    quantity: { value: '1.1450', unit: 't' },
    rate: { value: '310.00', unit: 'USD/t' },
    amount: '-354.95',
  }),
  line({
    id: 'charges/refining/Au',
    section: 'charges',
    label: 'Refining charge, gold',
    working: '2.983 ozt × 8.00 USD/ozt',
    quantity: { value: '2.983', unit: 'ozt' },
    rate: { value: '8.00', unit: 'USD/ozt' },
    amount: '-23.86',
  }),
  line({
    id: 'charges/freight',
    section: 'charges',
    label: 'Freight',
    working: '1.2500 t wet × 96.00 USD/t',
    quantity: { value: '1.2500', unit: 't' },
    rate: { value: '96.00', unit: 'USD/t' },
    amount: '-120.00',
  }),
  line({
    id: 'penalties/As',
    section: 'penalties',
    label: 'Arsenic',
    working:
      '1.84 % − 0.20 % free = 1.64 %; ÷ 0.10 % = 16.4 steps × 2.50 USD/t = 41.00 USD/t; × 1.1450 t dry',
    quantity: { value: '1.1450', unit: 't' },
    rate: { value: '41.00', unit: 'USD/t' },
    amount: '-46.95',
  }),
  line({
    id: 'royalties/owner',
    section: 'royalties',
    label: 'Royalty to the claim owner, withheld',
    working: '7,510.47 USD net smelter return × 4.00 %',
    quantity: { value: '7510.47', unit: 'USD' },
    rate: { value: '4.00', unit: '%' },
    amount: '-300.42',
  }),
  line({
    id: 'previous/net-value',
    section: 'previous',
    label: 'Net value',
    working: '8,056.23 payable − 498.81 charges − 46.95 penalties − 300.42 royalties = 7,210.05 USD',
    result: { value: '7210.05', unit: 'USD' },
  }),
  line({
    id: 'previous/S-0006',
    section: 'previous',
    label: 'Paid on provisional statement S-0006',
    working: 'Total of statement S-0006 of 2 Jul 2026',
    amount: '-5650.00',
  }),
  line({
    id: 'total/total',
    section: 'total',
    label: 'Due from the buyer to the seller',
    working: '7,210.05 − 5,650.00 = 1,560.05 USD',
    result: { value: '1560.05', unit: 'USD' },
  }),
];

const DAYS = ['2026-07-06', '2026-07-07', '2026-07-08', '2026-07-09'];

export function statementInput(over: Partial<StatementReportInput> = {}): StatementReportInput {
  return {
    settlement: settlementOf(CONCENTRATE_LINES),
    statement: {
      number: 'S-0007',
      stage: 'final',
      issuedOn: '2026-08-14',
      supersedes: 'S-0006',
      isDraft: false,
    },
    seller: SELLER,
    buyer: BUYER,
    material: 'concentrate',
    parcelName: 'Parcel P-12, table concentrate',
    termsName: 'Ostrander concentrate terms, version 3',
    termsSentences: [
      {
        clause: 'Gold',
        sentence: '96 % of the gold is paid for, at the mean of the quotations of the period.',
      },
      { clause: 'Silver', sentence: 'The silver grade less 50 g/t, and 95 % of what is left, is paid for.' },
      { clause: 'Treatment', sentence: '310.00 USD for each dry tonne.' },
      { clause: 'Arsenic', sentence: '2.50 USD for each dry tonne and each 0.10 % above 0.20 %, pro rata.' },
    ],
    days: [],
    dueOn: null,
    quotations: [
      {
        metal: 'Gold',
        unit: 'USD/ozt',
        basis: 'the four business days after arrival on 3 Jul 2026, invented prices.',
        rows: ['2498.00', '2510.50', '2505.25', '2496.25'].map((price, index) => ({
          date: DAYS[index] ?? '',
          price,
        })),
      },
      {
        metal: 'Silver',
        unit: 'USD/ozt',
        basis: 'the same days, invented prices.',
        rows: ['30.10', '30.45', '30.35', '30.30'].map((price, index) => ({
          date: DAYS[index] ?? '',
          price,
        })),
      },
    ],
    changeFromPrevious: {
      previousNumber: 'S-0006',
      currency: 'USD',
      massEffect: '-48.20',
      assayEffect: '1480.93',
      priceEffect: '127.32',
      otherEffect: '0.00',
      total: '1560.05',
    },
    provisionalItems: [],
    isDemo: true,
    ...over,
  };
}

/** An invented season of a small mill. */
export function seasonInput(over: Partial<SeasonReportInput> = {}): SeasonReportInput {
  return {
    season: { name: 'Summer 2026', startsOn: '2026-05-15', endsOn: '2026-09-30' },
    millName: SELLER.name,
    asOf: '2026-08-31',
    currency: 'USD',
    moneyDecimals: 2,
    depth: null,
    lots: [
      {
        code: 'L-01',
        description: 'Table concentrate, upper bench, mostly pyrite with some arsenopyrite',
        dryMassKg: '1145.0',
        takenKg: '1145.0',
        leftKg: '0.0',
        goldGpt: { p10: 83.6, p50: 84.4, p90: 85.2 },
        silverGpt: { p10: 598, p50: 608, p90: 618 },
      },
      {
        code: 'L-02',
        description: 'Bowl concentrate, creek claim',
        dryMassKg: '96.40',
        takenKg: '60.00',
        leftKg: '36.40',
        goldGpt: { p10: 1200, p50: 1310, p90: 1420 },
        silverGpt: null,
      },
      {
        code: 'L-03',
        description: '',
        dryMassKg: '310.0',
        takenKg: '0',
        leftKg: '310.0',
        goldGpt: null,
        silverGpt: null,
      },
    ],
    batches: [
      {
        code: 'B-01',
        lotCode: 'L-01',
        treatment: 'sold as concentrate',
        dryMassKg: '1145.0',
        forecastNetValue: { p10: 6120, p50: 7080, p90: 8110 },
        actualNetValue: { amount: '7210.05', stage: 'final' },
        forecastGoldOzt: { p10: 2.71, p50: 2.97, p90: 3.24 },
        actualGoldOzt: '2.983',
        forecastSilverOzt: { p10: 17.9, p50: 19.6, p90: 21.4 },
        actualSilverOzt: '19.514',
      },
      {
        code: 'B-02',
        lotCode: 'L-02',
        treatment: 'roasted first, then smelted with litharge; bead parted',
        dryMassKg: '60.00',
        forecastNetValue: { p10: 4480, p50: 5290, p90: 6160 },
        actualNetValue: { amount: '4205.60', stage: 'provisional' },
        forecastGoldOzt: { p10: 2.05, p50: 2.36, p90: 2.69 },
        actualGoldOzt: '1.982',
        forecastSilverOzt: null,
        actualSilverOzt: null,
      },
      {
        code: 'B-03',
        lotCode: 'L-02',
        treatment: 'smelted with iron',
        dryMassKg: '36.40',
        forecastNetValue: { p10: 1980, p50: 2890, p90: 3760 },
        actualNetValue: null,
        forecastGoldOzt: { p10: 1.12, p50: 1.38, p90: 1.61 },
        actualGoldOzt: null,
        forecastSilverOzt: { p10: 0.8, p50: 1.4, p90: 2.2 },
        actualSilverOzt: null,
      },
    ],
    settlements: [
      {
        number: 'S-0006',
        stage: 'provisional',
        buyer: BUYER.name,
        issuedOn: '2026-07-02',
        amount: '5650.00',
        currency: 'USD',
      },
      {
        number: 'S-0007',
        stage: 'final',
        buyer: BUYER.name,
        issuedOn: '2026-08-14',
        amount: '1560.05',
        currency: 'USD',
      },
      {
        number: 'S-0008',
        stage: 'provisional',
        buyer: 'Pinebrook Assay & Bullion <invented>',
        issuedOn: '2026-08-25',
        amount: '4205.60',
        currency: 'USD',
      },
    ],
    costs: [
      { kind: 'Reagents', amount: '612.35' },
      { kind: 'Lead and litharge', amount: '284.10' },
      { kind: 'Fuel', amount: '498.00' },
      { kind: 'Labour', amount: '2940.00' },
      { kind: 'Assays', amount: '365.00' },
    ],
    metalUnit: 'ozt',
    charts: [],
    findings: [
      {
        code: 'batch-below-forecast',
        level: 'warning',
        path: '/batches/1',
        sentence:
          'Batch B-02 came in at 4,205.60 USD, below its forecast range of 4,480 to 6,160 USD; its statement is still provisional.',
      },
    ],
    cautions: [
      'Lot L-01 holds arsenopyrite: roasting it gives off arsenic trioxide. Do not roast it without professional control, extraction and the permits that apply where you are.',
    ],
    isDemo: true,
    ...over,
  };
}
