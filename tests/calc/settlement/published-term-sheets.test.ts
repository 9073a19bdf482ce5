import { describe, expect, it } from 'vitest';
import { halfUp, type RoundingRule } from '../../../api/calc/rounding.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { Ladder, Penalty, PerMassCharge } from '../../../api/calc/terms/charge-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { MassUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import {
  amountOf,
  assay,
  assayRule,
  blockersOf,
  concentrate,
  expectProvable,
  lineOf,
  metal,
  NO_DATES,
  resultOf,
} from './support.ts';

const start = startingTerms({ title: 'A published example', material: 'concentrate' });
const bars = startingTerms({ title: 'A published example', material: 'dore' });
const all = { kind: 'unit-then-percent', paidFrac: '1', deduction: '0' } as const;
const part = (paidFrac: string) => ({ ...all, paidFrac });
const cutTo = (decimals: number): RoundingRule => ({ decimals, rule: 'truncate', multipleOf: null });

function final(terms: Terms, parcel: SettlementInput['parcel'], assays: SettlementInput['assays']) {
  const settlement = settle({
    terms,
    stage: 'final',
    parcel,
    assays,
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
  });
  expect(blockersOf(settlement)).toEqual([]);
  expectProvable(settlement, terms);
  return settlement;
}

const perTon = (rate: string, unit: MassUnit, more: Partial<PerMassCharge> = {}): PerMassCharge => ({
  kind: 'per-mass',
  purpose: 'treatment',
  name: 'Treatment charge',
  currency: null,
  rate,
  basis: 'dry',
  unit,
  minimum: null,
  escalators: [],
  ...more,
});

const above = (bands: [from: string, step: string, rate: string][]): Ladder => ({
  kind: 'marginal',
  counting: 'pro-rata',
  bands: bands.map(([from, step, rate]) => ({ from, step, rate })),
});

const SHORT_TON_KG = 907.18474;
const LONG_TON_KG = 1016.0469088;
const tons = (count: number, kg: number) => concentrate((count * kg).toFixed(6), '0');

describe('copper ore by ticketing (C. & J. J. Beringer, A Text-book of Assaying, 9th ed. 1904, valuation of copper ores)', () => {
  // The standard is 83 l. 15 s. a ton of fine copper, the returning charge 55 s. a ton of ore. His ton has 21 cwt on
  // both sides of the sum, so that the long ton stands in for it without any difference.
  const terms: Terms = {
    ...start,
    currency: 'GBP',
    weights: { kind: 'dry', unit: 'long ton', franchiseFrac: '0' },
    assays: [assayRule('Cu', 'percent')],
    metals: [metal('Cu', 'long ton', '83.75', all, { rounding: halfUp(4) })],
    charges: [perTon('2.75', 'long ton', { name: 'Returning charge' })],
    rounding: { ...start.rounding, mass: halfUp(3), money: halfUp(2) },
  };
  it('values 150 tons of 6 % ore at 753 l. 15 s. less 412 l. 10 s.', () => {
    const settlement = final(terms, tons(150, LONG_TON_KG), [assay('Cu', 'percent', '6')]);
    expect(resultOf(settlement, 'payable/Cu/metal')).toBe('9.0000');
    expect(amountOf(settlement, 'payable/Cu')).toBe('753.75');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-412.50');
    expect(settlement.total).toBe('341.25');
  });
  it('comes within a pound of the 2,591 l. 12 s. paid for 985 tons, from which he takes the standard as "nearly"', () => {
    // 2,591.60 + 2,708.75 is 5,300.35; over 63.3 tons that is 83.734, which he rounds up to 83 l. 15 s.
    const grade = ((63.3 / 985) * 100).toFixed(10);
    const exact = { ...terms, assays: [assayRule('Cu', 'percent', 10)] };
    const settlement = final(exact, tons(985, LONG_TON_KG), [assay('Cu', 'percent', grade)]);
    expect(amountOf(settlement, 'charges/treatment')).toBe('-2708.75');
    expect(settlement.total).toBe('2592.63');
  });
});

describe('outturn of doré returned as metal (a settlement report shown in a public refining forum, May 2017)', () => {
  // Received 16,003.40 g, after melting 16,000.20 g, 92.100 % gold, fine 14,736.18 g, returned 98 % 14,441.45 g.
  // 14,736.1842 and 14,441.4564: the report cuts both off after two decimals.
  const terms: Terms = {
    ...bars,
    settledIn: 'metal',
    weights: { kind: 'melt', unit: 'g', massOfRecord: 'after-melting', meltLossLimitFrac: '0.001' },
    assays: [assayRule('Au', 'fineness', 2), assayRule('Ag', 'fineness', 1)],
    metals: [
      metal('Au', 'g', '0', part('0.98'), { order: 'content', rounding: cutTo(2) }),
      metal('Ag', 'g', '0', part('0'), { order: 'content', rounding: cutTo(2) }),
    ],
    charges: [],
    rounding: { ...bars.rounding, mass: halfUp(2) },
  };
  const outturn = final(
    terms,
    { kind: 'dore', bars: [{ name: 'Bar', receivedG: '16003.40', afterMeltG: '16000.20' }] },
    [assay('Au', 'fineness', '921.00'), assay('Ag', 'fineness', '60')],
  );
  it('gives its fine and returned gold to the last digit, and no silver', () => {
    expect(resultOf(outturn, 'payable/Au/contained')).toBe('14736.18');
    expect(resultOf(outturn, 'payable/Au')).toBe('14441.45');
    expect(resultOf(outturn, 'payable/Ag')).toBe('0.00');
    expect(outturn.total).toBe('0.00');
  });
});

describe('worked settlement of 25 kg of doré ("The gold refinery settlement process", a trader’s public guide)', () => {
  // 24.96 kg after melting at 91.3 %: 732.7 oz; 99 % payable: 725.4 oz. Only if the ounces contained are rounded to a
  // tenth first: 732.667 × 99 % is 725.34. Its charge per kilogram has no figure; 10 a kilogram is ours.
  const terms: Terms = {
    ...bars,
    weights: { kind: 'melt', unit: 'kg', massOfRecord: 'after-melting', meltLossLimitFrac: null },
    assays: [assayRule('Au', 'percent', 1)],
    metals: [metal('Au', 'ozt', '2000', part('0.99'), { order: 'content', rounding: halfUp(1) })],
    charges: [perTon('10', 'kg', { basis: 'received', purpose: 'refining', name: 'Refining charge' })],
    rounding: { ...bars.rounding, mass: halfUp(2) },
  };
  it('gives its ounces to the printed tenth', () => {
    const settlement = final(
      terms,
      { kind: 'dore', bars: [{ name: 'Lot', receivedG: '25000', afterMeltG: '24960' }] },
      [assay('Au', 'percent', '91.3')],
    );
    expect(resultOf(settlement, 'payable/Au/contained')).toBe('732.7');
    expect(resultOf(settlement, 'payable/Au/metal')).toBe('725.4');
    expect(amountOf(settlement, 'charges/refining')).toBe('-250.00');
  });
});

describe('deleterious elements of doré (refining agreement filed with the US SEC in 2009 as exhibit 3.33, terms seen)', () => {
  // Per gross ounce, "up to": free 0.01 %; 0.15 up to 0.03; 0.25 up to 0.05; 0.40 up to 0.10; above it no smelt.
  // Lead further 0.75 up to 5 %. Tin: free 0.1 %; 0.05 up to 0.3; 0.15 up to 0.5; 0.25 up to 1; 0.40 up to 3.
  const penalty = (element: string, brackets: [string, string][], refusedAbove: string): Penalty => ({
    name: element,
    elements: [element],
    unit: 'percent',
    ladder: {
      kind: 'bracket',
      brackets: brackets.map(([from, rate]) => ({ from, reachedAt: 'above', rate })),
    },
    basis: 'received',
    massUnit: 'ozt',
    refusedAbove,
  });
  const usual: [string, string][] = [
    ['0.01', '0.15'],
    ['0.03', '0.25'],
    ['0.05', '0.40'],
  ];
  const tin: [string, string][] = [
    ['0.1', '0.05'],
    ['0.3', '0.15'],
    ['0.5', '0.25'],
    ['1.0', '0.40'],
  ];
  const elements = ['As', 'Cd', 'Se', 'Bi', 'Te', 'Sb'];
  const terms: Terms = {
    ...bars,
    weights: { kind: 'melt', unit: 'ozt', massOfRecord: 'after-melting', meltLossLimitFrac: null },
    assays: [
      assayRule('Au', 'fineness', 1),
      ...[...elements, 'Pb', 'Sn'].map((e) => assayRule(e, 'percent')),
    ],
    metals: [metal('Au', 'ozt', '950', part('0.999'), { order: 'content' })],
    penalties: [
      ...elements.map((element) => penalty(element, usual, '0.10')),
      penalty('Pb', [...usual, ['0.10', '0.75']], '5.00'),
      penalty('Sn', tin, '3.0'),
    ],
    rounding: { ...bars.rounding, mass: halfUp(3) },
  };
  const thousandOunces: SettlementInput['parcel'] = {
    kind: 'dore',
    bars: [{ name: 'Bar', receivedG: '31103.4768', afterMeltG: '31103.4768' }],
  };
  const settled = (of: Record<string, string>) =>
    final(terms, thousandOunces, [
      assay('Au', 'fineness', '900'),
      ...[...elements, 'Pb', 'Sn'].map((e) => assay(e, 'percent', of[e] ?? '0')),
    ]);

  it.each([
    ['As', '0.01', '0.00'],
    ['As', '0.03', '-150.00'],
    ['Cd', '0.031', '-250.00'],
    ['Te', '0.10', '-400.00'],
    ['Pb', '0.10', '-400.00'],
    ['Pb', '5.00', '-750.00'],
    ['Sn', '0.3', '-50.00'],
    ['Sn', '0.31', '-150.00'],
    ['Sn', '3.0', '-400.00'],
  ])('charges 1,000 oz with %s at %s percent %s', (element, level, amount) => {
    const settlement = settled({ [element]: level });
    expect(Number(amountOf(settlement, `penalties/${element}`))).toBe(Number(amount));
  });
  it('charges each of several elements, and warns of the one that need not be taken', () => {
    const settlement = settled({ As: '0.02', Sb: '0.04', Bi: '0.11', Pb: '1.2', Sn: '0.6' });
    const penalties = settlement.lines.filter((line) => line.section === 'penalties' && line.amount !== null);
    expect(penalties.reduce((sum, line) => sum + Number(line.amount), 0)).toBe(-150 - 250 - 400 - 750 - 250);
    const refused = settlement.findings.filter((finding) => finding.code === 'above-refusal-level');
    expect(refused.map((finding) => finding.sentence.slice(0, 3))).toEqual(['Bi:']);
  });
});

describe('gold concentrate by percentage schedule, silver priced by its grade (agreement filed with the US SEC in 2010 as exhibit 10.13, terms seen)', () => {
  // Gold 91 % from 20 g/t, 92 from 30, 93 from 40, 94 from 60, 95 from 70, 96 from 80. Silver 0.5 a gram at 100 to
  // 199.99 g/t, 0.7 from 200. The gold price of 200 a gram is ours.
  const schedule: [string, string][] = [
    ['20', '0.91'],
    ['30', '0.92'],
    ['40', '0.93'],
    ['60', '0.94'],
    ['70', '0.95'],
    ['80', '0.96'],
  ];
  const silver = metal('Ag', 'g', '0', all);
  const terms: Terms = {
    ...start,
    currency: 'CNY',
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0' },
    assays: [assayRule('Au', 'g/t', 2), assayRule('Ag', 'g/t', 2)],
    metals: [
      metal('Au', 'g', '200', {
        kind: 'steps',
        steps: schedule.map(([fromGrade, paidFrac]) => ({ fromGrade, form: part(paidFrac) })),
      }),
      {
        ...silver,
        price: {
          ...silver.price,
          basis: {
            kind: 'by-grade',
            steps: [
              { fromGrade: '100', price: '0.5' },
              { fromGrade: '200', price: '0.7' },
            ],
          },
        },
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(3), payableGrade: halfUp(4) },
  };
  it.each([
    // 20 dry tonnes. Gold and silver in g/t; grams of gold payable, money for silver.
    ['29.99', '99.99', '545.818', '0.00'],
    ['45.5', '150', '846.300', '1500.00'],
    ['59.99', '199.99', '1115.814', '1999.90'],
    ['80', '200', '1536.000', '2800.00'],
    ['19.99', '300', '0.000', '4200.00'],
  ])('pays for gold at %s and silver at %s g/t', (gold, silverGrade, grams, silverMoney) => {
    const settlement = final(terms, concentrate('20000', '0'), [
      assay('Au', 'g/t', gold),
      assay('Ag', 'g/t', silverGrade),
    ]);
    expect(Number(resultOf(settlement, 'payable/Au/metal'))).toBe(Number(grams));
    expect(amountOf(settlement, 'payable/Ag')).toBe(silverMoney);
  });
});

describe('uranium ore priced by its grade (US Atomic Energy Commission, purchase schedule at Monticello, 10 CFR 60.5, terms seen)', () => {
  // 1.50 USD a pound at 0.10 %, 0.20 more for each 0.01 % up to 3.50; 0.75 a pound premium above 4 lb a ton and 0.25
  // more above 10 lb; 0.31 a pound of V2O5; 0.50 a pound development allowance. That vanadium counts only up to ten
  // times the uranium is no clause here: the assay of vanadium has to be entered as far as it counts.
  const steps = Array.from({ length: 11 }, (_, i) => ({
    fromGrade: (0.1 + i / 100).toFixed(2),
    price: (1.5 + i / 5).toFixed(2),
  }));
  const uranium = metal('U3O8', 'lb', '0', all);
  const credit = (name: string, bands: [string, string, string][]) => ({
    kind: 'component' as const,
    name,
    elements: ['U3O8'],
    unit: 'percent' as const,
    ladder: above(bands),
    basis: 'dry' as const,
    massUnit: 'short ton' as const,
  });
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'short ton', franchiseFrac: '0' },
    factors: { ...start.factors, poundsPerTonne: '2204.62262185', shortTonsPerTonne: '1.102311310925' },
    assays: [assayRule('U3O8', 'percent'), assayRule('V2O5', 'percent')],
    metals: [
      { ...uranium, price: { ...uranium.price, basis: { kind: 'by-grade', steps } } },
      metal('V2O5', 'lb', '0.31', all),
    ],
    credits: [
      // Four pounds a ton are 0.2 %, a pound 0.05 %.
      credit('Premium', [
        ['0.2', '0.05', '0.75'],
        ['0.5', '0.05', '1.00'],
      ]),
      credit('Development allowance', [['0', '0.05', '0.50']]),
    ],
    rounding: { ...start.rounding, mass: halfUp(4) },
  };
  it.each([
    // Derived by hand from the schedule.
    ['0.10', '0', '4.00'],
    ['0.15', '0', '9.00'],
    ['0.199', '0', '15.12'],
    ['0.25', '1.0', '26.95'],
    ['0.60', '0', '54.50'],
  ])('pays for a ton of %s percent U3O8 and %s percent V2O5 %s', (u, v, total) => {
    const settlement = final(terms, tons(1, SHORT_TON_KG), [
      assay('U3O8', 'percent', u),
      assay('V2O5', 'percent', v),
    ]);
    // 0.199 %: 3.98 lb at 3.30, and 3.98 × 0.50.
    expect(settlement.total).toBe(total);
  });
});

describe('copper ore at a custom smelter (US Bureau of Mines, Information Circular 8225, 1964, p. 50, typical schedule, terms seen)', () => {
  // 9.50 USD a short dry ton up to 12 % copper, 0.50 more for each per cent above, fractions in proportion, at most
  // 13.50. Copper less 1.3 units; silver 95 % from 1 oz, at least 1 oz kept. Prices are ours.
  const schedule = (unit: 'short ton' | 'tonne', rate: (perShortTon: string) => string): Terms => ({
    ...start,
    weights: { kind: 'dry', unit, franchiseFrac: '0' },
    assays: [assayRule('Cu', 'percent'), assayRule('Ag', 'oz/short ton')],
    metals: [
      metal('Cu', 'lb', '0.31', { ...all, deduction: '1.3' }, { rounding: halfUp(5) }),
      metal('Ag', 'ozt', '1.29', part('0.95'), { minimumGrade: '1', minimumDeduction: '1' }),
    ],
    charges: [
      perTon(rate('9.50'), unit),
      {
        kind: 'by-level',
        purpose: 'treatment',
        name: 'Above 12 % copper',
        currency: null,
        level: { kind: 'grade', elements: ['Cu'], unit: 'percent' },
        ladder: above([
          ['12', '1', rate('0.50')],
          ['20', '1', '0'],
        ]),
        basis: 'dry',
        unit,
        minimum: null,
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(6), perTonneValue: halfUp(8) },
  });
  const american = schedule('short ton', (rate) => rate);
  const metric = schedule('tonne', (rate) => (Number(rate) * 1.10231131).toFixed(8));

  it.each([
    // Copper %, silver oz; paid for copper and silver, charged. Derived by hand.
    ['8', '0.9', '41.54', '0.00', '-9.50'],
    ['12', '3', '66.34', '2.58', '-9.50'],
    ['16', '20', '91.14', '24.51', '-11.50'],
    ['20', '30', '115.94', '36.77', '-13.50'],
    ['25', '30', '146.94', '36.77', '-13.50'],
  ])('settles a short ton of %s percent copper and %s oz silver', (cu, ag, copper, silver, charged) => {
    const assays = [assay('Cu', 'percent', cu), assay('Ag', 'oz/short ton', ag)];
    for (const terms of [american, metric]) {
      const settlement = final(terms, tons(1, SHORT_TON_KG), assays);
      expect(amountOf(settlement, 'payable/Cu')).toBe(copper);
      expect(amountOf(settlement, 'payable/Ag')).toBe(silver);
      const charges = settlement.lines.filter((line) => line.section === 'charges');
      const sum = charges.reduce((total, line) => total + Number(line.amount ?? 0), 0);
      expect(sum.toFixed(2)).toBe(charged);
    }
  });
});

describe('zinc treatment charge with escalators both ways (terms of the year as reported by Reuters on 18 March 2015)', () => {
  // 245 USD at 2,000; 9.5 % of the price up to 2,500, 7.5 % above, 3.5 % less below 2,000.
  const terms = (price: string): Terms => ({
    ...start,
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0' },
    assays: [assayRule('Zn', 'percent')],
    metals: [metal('Zn', 'tonne', price, { kind: 'lesser-of', paidFrac: '0.85', deduction: '8' })],
    charges: [
      perTon('245', 'tonne', {
        escalators: [
          {
            metal: 'Zn',
            up: {
              kind: 'marginal',
              counting: 'pro-rata',
              bands: [
                { from: '2000', step: '1', rate: '0.095' },
                { from: '2500', step: '1', rate: '0.075' },
              ],
            },
            down: {
              kind: 'shortfall',
              counting: 'pro-rata',
              bands: [{ from: '2000', step: '1', rate: '0.035' }],
            },
            maximumIncrease: null,
            maximumDecrease: null,
          },
        ],
      }),
    ],
    rounding: { ...start.rounding, mass: halfUp(3) },
  });
  it.each([
    ['1800', '238.00'],
    ['2000', '245.00'],
    ['2300', '273.50'],
    ['2500', '292.50'],
    ['2700', '307.50'],
  ])('comes to a charge at %s USD of %s', (price, charge) => {
    const settlement = final(terms(price), concentrate('1000', '0'), [assay('Zn', 'percent', '53')]);
    const charged = settlement.lines.filter((line) => line.section === 'charges');
    expect((-charged.reduce((sum, line) => sum + Number(line.amount ?? 0), 0)).toFixed(2)).toBe(charge);
    // 53 × 85 % is 45.05, 53 − 8 is 45.
    expect(Number(resultOf(settlement, 'payable/Zn/grade'))).toBe(45);
  });
});

describe('zinc concentrate with five penalties (class exercise "Comercialización de minerales", no. 2, author not stated; inputs seen, results not legible)', () => {
  // 200,000 t wet at 8 %, waste 1 %; zinc 85 % or 8 units; silver less 3 oz, 60 %; 232 a tonne, 0.15 up and 0.09 down
  // of each dollar from 850; arsenic and antimony as one. Silver is assayed per short ton, deducted per tonne.
  const penalty = (elements: string[], unit: Penalty['unit'], band: [string, string, string]): Penalty => ({
    name: elements.join(' + '),
    elements,
    unit,
    ladder: above([band]),
    basis: 'settlement',
    massUnit: 'tonne',
    refusedAbove: null,
  });
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0.01' },
    valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: true },
    assays: [
      assayRule('Zn', 'percent', 2),
      assayRule('Ag', 'oz/t', 5),
      ...['As', 'Sb', 'Fe', 'SiO2', 'Mn'].map((element) => assayRule(element, 'percent', 3)),
      assayRule('Hg', 'ppm', 0),
    ],
    metals: [
      metal('Zn', 'tonne', '809', { kind: 'lesser-of', paidFrac: '0.85', deduction: '8' }),
      metal('Ag', 'ozt', '4.5715', { kind: 'unit-then-percent', paidFrac: '0.60', deduction: '3' }),
    ],
    charges: [
      perTon('232', 'tonne', {
        basis: 'settlement',
        escalators: [
          {
            metal: 'Zn',
            up: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '850', step: '1', rate: '0.15' }] },
            down: {
              kind: 'shortfall',
              counting: 'pro-rata',
              bands: [{ from: '850', step: '1', rate: '0.09' }],
            },
            maximumIncrease: null,
            maximumDecrease: null,
          },
        ],
      }),
    ],
    penalties: [
      penalty(['As', 'Sb'], 'percent', ['0.1', '0.1', '2.5']),
      penalty(['Fe'], 'percent', ['5', '1', '2.5']),
      penalty(['SiO2'], 'percent', ['2', '0.1', '2']),
      penalty(['Mn'], 'percent', ['0.4', '0.1', '2.5']),
      penalty(['Hg'], 'ppm', ['50', '10', '3']),
    ],
    rounding: { ...start.rounding, mass: halfUp(3), payableGrade: halfUp(6), perTonneValue: halfUp(4) },
  };
  it('comes to its masses, grades and penalties, worked by hand', () => {
    const settlement = final(terms, concentrate('200000000', '0.08'), [
      assay('Zn', 'percent', '52'),
      assay('Ag', 'oz/short ton', '30'),
      assay('As', 'percent', '0.125'),
      assay('Sb', 'percent', '0.40'),
      assay('Fe', 'percent', '5.5'),
      assay('SiO2', 'percent', '3.3'),
      assay('Mn', 'percent', '0.41'),
      assay('Hg', 'ppm', '175'),
    ]);
    expect(resultOf(settlement, 'weights/settlement')).toBe('182160.000');
    expect(resultOf(settlement, 'payable/Zn/per-tonne')).toBe('355.9600');
    expect(resultOf(settlement, 'payable/Ag/per-tonne')).toBe('82.4772');
    expect(lineOf(settlement, 'charges/treatment/escalator-1').rate?.value).toBe('-3.6900');
    const rates = ['As+Sb', 'Fe', 'SiO2', 'Mn', 'Hg'].map((id) =>
      resultOf(settlement, `penalties/${id}/rate`),
    );
    expect(rates).toEqual(['10.6250', '1.2500', '26.0000', '0.2500', '37.5000']);
    // 355.96 + 82.4772 − 228.31 − 75.625 a tonne, multiplied once.
    expect(settlement.total).toBe((134.5022 * 182_160).toFixed(2));
  });
});

describe('royalty on the value less shipping (Mineral Royalties Act 2024 of the Northern Territory, Australia, s 14)', () => {
  // (value − shipping) × rate, the deduction no more than the value; figures ours, alumina’s rate of 3.5 %.
  const terms = (freight: string): Terms => ({
    ...start,
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0' },
    assays: [assayRule('Pb', 'percent')],
    metals: [metal('Pb', 'tonne', '2000', all)],
    charges: [perTon(freight, 'tonne', { purpose: 'freight', name: 'Shipping' })],
    royalties: [
      {
        name: 'Royalty',
        kind: 'royalty',
        base: { kind: 'net-smelter-return' },
        rate: { kind: 'flat', rateFrac: '0.035' },
        exemption: null,
        paidBy: 'buyer-withholds',
        payees: [],
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(3) },
  });
  it.each([
    ['120', '-3080.00'],
    ['1200', '0.00'],
  ])('with shipping at %s a tonne is %s', (freight, royalty) => {
    // 100 t of 50 % lead: 100,000.
    const settlement = final(terms(freight), concentrate('100000', '0'), [assay('Pb', 'percent', '50')]);
    expect(amountOf(settlement, 'payable/Pb')).toBe('100000.00');
    expect(Number(amountOf(settlement, 'royalties/royalty'))).toBe(Number(royalty));
  });
});

describe('copper-gold concentrate, gold by the grams and silver from a level (common practice, from memory)', () => {
  const goldSteps: [string, string][] = [
    ['1', '0.90'],
    ['3', '0.93'],
    ['5', '0.95'],
    ['10', '0.97'],
  ];
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0' },
    assays: [assayRule('Cu', 'percent', 2), assayRule('Au', 'g/t', 2), assayRule('Ag', 'g/t', 0)],
    metals: [
      metal('Cu', 'tonne', '9000', { kind: 'lesser-of', paidFrac: '0.965', deduction: '1' }),
      metal('Au', 'ozt', '2000', {
        kind: 'steps',
        steps: goldSteps.map(([fromGrade, paidFrac]) => ({ fromGrade, form: part(paidFrac) })),
      }),
      metal('Ag', 'ozt', '25', part('0.90'), { minimumGrade: '30' }),
    ],
    rounding: { ...start.rounding, mass: halfUp(3), payableGrade: halfUp(4) },
  };
  it.each([
    ['28.57', '0.99', '29', '27.57', '0', null],
    ['20', '4.99', '30', '19', '4.6407', '27'],
    ['30', '10', '31', '28.95', '9.7', '27.9'],
  ])('pays for %s percent Cu, %s g/t Au and %s g/t Ag', (cu, au, ag, copper, gold, silver) => {
    const settlement = final(terms, concentrate('10000', '0'), [
      assay('Cu', 'percent', cu),
      assay('Au', 'g/t', au),
      assay('Ag', 'g/t', ag),
    ]);
    expect(Number(resultOf(settlement, 'payable/Cu/grade'))).toBe(Number(copper));
    expect(Number(resultOf(settlement, 'payable/Au/grade'))).toBe(Number(gold));
    const silverLine = settlement.lines.find((line) => line.id === 'payable/Ag/grade');
    expect(silverLine === undefined ? null : Number(silverLine.result?.value)).toBe(
      silver === null ? null : Number(silver),
    );
  });
});

describe('bulk sale whose handling goes by the mass of the parcel (common practice, figures invented)', () => {
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'short ton', franchiseFrac: '0' },
    assays: [assayRule('Pb', 'percent')],
    metals: [metal('Pb', 'tonne', '2000', part('0.9'))],
    charges: [
      {
        kind: 'by-level',
        purpose: 'handling',
        name: 'Handling',
        currency: null,
        level: { kind: 'mass', basis: 'wet', unit: 'short ton' },
        ladder: {
          kind: 'bracket',
          brackets: [
            { from: '0', reachedAt: 'level', rate: '40' },
            { from: '10', reachedAt: 'level', rate: '30' },
            { from: '25', reachedAt: 'above', rate: '22' },
          ],
        },
        basis: 'wet',
        unit: 'short ton',
        minimum: '100',
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(6) },
  };
  it.each([
    [2, '-100.00'],
    [9.999, '-399.96'],
    [10, '-300.00'],
    [25, '-750.00'],
    [25.001, '-550.02'],
  ])('charges %s short tons %s', (count, amount) => {
    const settlement = final(terms, tons(count, SHORT_TON_KG), [assay('Pb', 'percent', '50')]);
    const charged = settlement.lines.filter((line) => line.section === 'charges');
    expect(charged.reduce((sum, line) => sum + Number(line.amount ?? 0), 0).toFixed(2)).toBe(amount);
  });
});
