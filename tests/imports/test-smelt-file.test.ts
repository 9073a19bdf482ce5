import { describe, expect, it } from 'vitest';
import { testSmeltFile, type TestSmeltNames } from '../../api/imports/test-smelt-file.ts';
import { TEMPLATE_COLUMNS } from '../../reports/csv/templates.ts';
import { understand } from './understand.ts';

const id = (at: number): string => `${String(at).padStart(8, '0')}-0000-4000-8000-000000000000`;
const names: TestSmeltNames = {
  lots: [
    { id: id(1), code: 'L-1' },
    { id: id(2), code: 'L-2' },
  ],
  balances: [
    { id: id(3), name: 'Bench scale' },
    { id: id(4), name: 'Bead scale' },
  ],
  supplies: [
    { id: id(5), name: 'Borax', kind: 'reagent' },
    { id: id(6), name: 'Soda ash', kind: 'reagent' },
    { id: id(7), name: 'Litharge', kind: 'litharge' },
    { id: id(8), name: 'Lead shot', kind: 'lead' },
    { id: id(9), name: 'Nails', kind: 'iron' },
    { id: id(10), name: 'Propane', kind: 'fuel' },
  ],
  treatments: [
    { id: id(11), name: 'Roast and smelt' },
    { id: id(12), name: 'Smelt with iron' },
  ],
};
const base = 'lot,trial,sample,smelted_on,sample_mass_g,roasted,balance,bead_balance';
const row = (sample: string, more = '', lot = 'L-1', trial = 'Roasted first') =>
  `${lot},${trial},${sample},2026-06-12,50.00,yes,Bench scale,bead SCALE${more}`;
const read = (header: string, ...rows: string[]) =>
  understand(testSmeltFile(names), [base + header, ...rows].join('\n'));
const messages = async (header: string, ...rows: string[]) =>
  (await read(header, ...rows)).problems.map(({ row, column, message }) => `${row} ${column}: ${message}`);

describe('a file of test smelts', () => {
  it('is understood, names and all; an empty cell is not weighed', async () => {
    const { entries, problems } = await read(
      ',treatment,bead_mg,parted_gold_mg,roast_temp_c,reagent:Borax_g,REAGENT:soda_ash_G,reagent:Litharge_g',
      row('R1', ',Roast and smelt,7.85,,520,20,0,'),
    );
    expect(problems).toEqual([]);
    expect(entries[0]?.trial).toEqual({
      lotId: id(1),
      treatmentId: id(11),
      name: 'Roasted first',
      remarks: '',
    });
    expect(entries[0]?.smelt).toMatchObject({
      sample: 'R1',
      smeltedOn: '2026-06-12',
      sampleMassG: 50,
      roasted: true,
      beadMg: 7.85,
      partedGoldMg: null,
      roastTempC: 520,
      buttonG: null,
      reagents: [{ supplyId: id(5), massG: 20 }],
      sampleBalanceId: id(3),
      beadBalanceId: id(4),
      setAsideReason: null,
    });
  });

  it('has every column of the template', () => {
    const known = testSmeltFile(names).columns.map(({ name }) => name);
    expect(known).toEqual(expect.arrayContaining([...TEMPLATE_COLUMNS['test-smelts'], 'treatment']));
  });

  it('names what is unknown, and the nearest known', async () => {
    expect(
      await messages(
        ',treatment',
        row('A', ',', 'L-3'),
        row('B', ',Rost and smelt'),
        row('C', ',').replace('Bench scale', 'Bench'),
      ),
    ).toEqual([
      '2 lot: Must be one of the lots; the closest known: L-1, L-2.',
      '3 treatment: Must be one of the treatments; the closest known: Roast and smelt, Smelt with iron.',
      '4 balance: Must be one of the balances; the closest known: Bench scale, Bead scale.',
    ]);
    const none = await understand(testSmeltFile({ ...names, lots: [] }), `${base}\n${row('A')}`);
    expect(none.problems[0]?.message).toBe('Must be one of the lots; there are no lots yet.');
  });

  it.each([
    ['reagent:Boraks_g', /^There is no reagent Boraks among the supplies; the closest known: Borax, /],
    ['reagent:Borax', "The column of a reagent's mass in grams is named reagent:Borax_g."],
    ['reagent:Lead shot_g', 'Lead shot is lead: its mass goes into the column collector_lead_g.'],
    ['reagent:nails_g', 'Nails is iron: its mass goes into the columns iron_in_g and iron_out_g.'],
    ['reagent:Propane_g', 'Propane is recorded as fuel, not as a reagent.'],
    ['bead_g', /^The column is not known; the nearest is bead_mg\./],
  ])('says what is wrong with the column %s', async (column, message) => {
    expect((await read(`,${column}`, row('A', ',5'))).problems).toMatchObject([
      { row: 1, column, message: expect.stringMatching(message) },
    ]);
  });

  it('keeps a trial to one treatment', async () => {
    const header = ',treatment';
    expect(
      await messages(header, row('A', ',Roast and smelt'), row('B', ','), row('C', ',Smelt with iron')),
    ).toEqual(['4 treatment: Must be Roast and smelt as in row 2: a trial has one treatment.']);
    const other = row('C', ',Smelt with iron', 'L-2');
    expect(await messages(header, row('A', ',Roast and smelt'), other)).toEqual([]);
  });

  it('refuses what the entry by hand refuses, by column', async () => {
    expect(
      await messages(
        ',bead_mg,button_g,parted_gold_mg,reagent:Borax_g,roast_temp_c,set_aside_reason',
        row('A', ',42000,41,43000,-1,1400,'),
        row('B', ',1,5,0.5,3,500,spilt').replace(',yes,', ',no,'),
        `L-1,T,C,2026-06-12,0,perhaps,Bench scale,,x,,,,,`,
      ),
    ).toEqual([
      '2 roast_temp_c: Must be at most 1300.',
      '2 reagent:Borax_g: Must be above 0.',
      '2 bead_mg: Must not be heavier than the button it came from (41 g); beads are in milligrams.',
      '2 parted_gold_mg: Must not be heavier than the bead it was parted from (42000 mg).',
      '3 roasted: Must be yes when masses, hours or temperature of a roast are given.',
      '4 bead_balance: Must not be empty.',
      '4 roasted: Must be yes or no.',
      '4 bead_mg: Must be a number such as 1240.5, without grouping of digits.',
      '4 sample_mass_g: Must be above 0.',
    ]);
  });
});
