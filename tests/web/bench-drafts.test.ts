import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newLot } from '../../api/schemas/lot.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import { testSmelt } from '../../api/schemas/test-smelt.ts';
import type { TestSmeltRecord } from '../../api/schemas/test-smelt.ts';
import { testSmeltEntry } from '../../api/schemas/test-smelt-entry.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import type { OwnerChoices } from '../../web/lib/owner.ts';
import { lotDraftOf, lotFromDraft } from '../../web/pages/lots/lot-draft.ts';
import { placeInForm, smeltEntry } from '../../web/pages/test-smelts/save-smelt.ts';
import { recipeCharge } from '../../web/pages/test-smelts/recipe-charge.ts';
import {
  emptySmeltDraft,
  isNew,
  newBalanceIds,
  newReagentId,
  sameBalance,
  smeltDraftOf,
  smeltSoFar,
} from '../../web/pages/test-smelts/smelt-draft.ts';

const id = (digit: string): string => `${digit.repeat(8)}-0000-4000-8000-000000000000`;
const comma: OwnerChoices = { ...plainChoices, decimalComma: true };

describe('the draft of a test smelt', () => {
  const mass = fc.oneof(fc.constant(null), fc.double({ min: 0, max: 99_000, noNaN: true }));
  const above = fc.double({ min: 0.001, max: 99_000, noNaN: true });
  const anyRecord: fc.Arbitrary<TestSmeltRecord> = fc
    .record({
      id: fc.constant(id('1')),
      version: fc.constant(3),
      trialId: fc.constant(id('2')),
      sample: fc.constant('A 4'),
      smeltedOn: fc.constant('2031-05-04'),
      sampleMassG: above,
      roasted: fc.constant(true),
      massBeforeRoastG: fc.oneof(fc.constant(null), above),
      massAfterRoastG: fc.oneof(fc.constant(null), above),
      roastHours: fc.oneof(fc.constant(null), fc.double({ min: 0, max: 200, noNaN: true })),
      roastTempC: fc.oneof(fc.constant(null), fc.integer({ min: 0, max: 1300 })),
      reagents: fc
        .array(above, { maxLength: 3 })
        .map((masses) => masses.map((massG, place) => ({ supplyId: id(String(place + 3)), massG }))),
      collectorLeadG: mass,
      ironInG: mass,
      ironOutG: mass,
      crucibleVolumeMl: fc.oneof(fc.constant(null), above),
      buttonG: fc.constant(null),
      matteG: mass,
      slagG: mass,
      beadMg: mass,
      partedGoldMg: fc.constant(null),
      blankMgPerLeadG: fc.oneof(fc.constant(null), fc.double({ min: 0, max: 100, noNaN: true })),
      blankStandardUncertaintyMgPerLeadG: fc.constant(null),
      sampleBalanceId: fc.constant(id('8')),
      beadBalanceId: fc.constant(id('9')),
      setAsideReason: fc.constantFrom(null, 'Spilled'),
      remarks: fc.constant('Foamed'),
    })
    .map((record) => testSmelt.parse(record));

  it('gives back the record that it was made from, with point or comma', () => {
    fc.assert(
      fc.property(anyRecord, fc.constantFrom(plainChoices, comma), (record, owner) => {
        const { id: _id, version: _version, ...fields } = record;
        const sent = smeltEntry(smeltDraftOf(record, id('7'), owner), record.setAsideReason, owner);
        expect(testSmeltEntry.parse(sent)).toEqual({
          ...fields,
          reagents: fields.reagents.map((one) => ({ ...one, newSupply: null })),
          newTrial: null,
          newSampleBalance: null,
          newBeadBalance: null,
        });
      }),
    );
  });

  it('gives back a roast temperature typed in degrees Fahrenheit to a hair', () => {
    const fahrenheit: OwnerChoices = { ...plainChoices, temperatureUnit: '°F' };
    const draft = emptySmeltDraft({ roasted: true, roastTempC: '968' });
    expect(smeltSoFar(draft, fahrenheit).roastTempC).toBeCloseTo(520, 8);
  });

  it('sends nothing of a roast that is unticked, and keeps it typed', () => {
    const draft = emptySmeltDraft({ roasted: false, massBeforeRoastG: '100', roastTempC: '500' });
    expect(smeltSoFar(draft, plainChoices)).toMatchObject({ massBeforeRoastG: null, roastTempC: null });
  });

  it('takes what cannot be read as not weighed, while its field says what is wrong', () => {
    const draft = emptySmeltDraft({ beadMg: '3,2', buttonG: '', matteG: '0' });
    expect(smeltSoFar(draft, plainChoices)).toMatchObject({ beadMg: null, buttonG: null, matteG: 0 });
  });

  it('sends a new trial, reagent and balance whole, and once where one balance weighs all', () => {
    const draft = emptySmeltDraft({
      lotId: id('7'),
      trialId: isNew,
      newTrialName: 'Raw',
      sample: '1',
      smeltedOn: '2031-05-04',
      sampleMassG: '100',
      reagents: [
        { supplyId: id('3'), newName: '', massG: '20' },
        { supplyId: isNew, newName: 'Litharge', massG: '40' },
      ],
      sampleBalanceId: isNew,
      newSampleBalance: { name: 'Scale', readabilityG: '0,01', repeatabilityG: '0,01' },
      beadBalanceId: sameBalance,
    });
    const sent = testSmeltEntry.parse(smeltEntry(draft, null, comma));
    expect(sent).toMatchObject({
      trialId: null,
      newTrial: { lotId: id('7'), name: 'Raw', treatmentId: null },
      sampleBalanceId: null,
      newSampleBalance: { name: 'Scale', readabilityG: '0.01' },
      beadBalanceId: null,
      newBeadBalance: null,
      reagents: [
        { supplyId: id('3'), newSupply: null, massG: 20 },
        { supplyId: null, newSupply: { name: 'Litharge', kind: 'litharge' }, massG: 40 },
      ],
    });
    const known = { ...draft, sampleBalanceId: id('8') };
    expect(smeltEntry(known, null, comma)).toMatchObject({ beadBalanceId: id('8') });
  });

  it('finds the field of the form that a refusal speaks of', () => {
    expect(placeInForm('/newTrial/name')).toBe('/newTrialName');
    expect(placeInForm('/newTrial/treatmentId')).toBe('/newTrialTreatmentId');
    expect(placeInForm('/reagents/2/newSupply/name')).toBe('/reagents/2/newName');
    expect(placeInForm('/newBeadBalance/readabilityG')).toBe('/newBeadBalance/readabilityG');
    expect(placeInForm('/beadMg')).toBe('/beadMg');
  });

  it('lets new reagents and balances stand in before they are in the books', () => {
    const draft = emptySmeltDraft({
      reagents: [
        { supplyId: id('3'), newName: '', massG: '5' },
        { supplyId: isNew, newName: 'Borax', massG: '20' },
        { supplyId: isNew, newName: 'Not weighed yet', massG: '' },
      ],
      sampleBalanceId: isNew,
      beadBalanceId: sameBalance,
    });
    expect(smeltSoFar(draft, plainChoices)).toMatchObject({
      reagents: [
        { supplyId: id('3'), massG: 5 },
        { supplyId: newReagentId(1), massG: 20 },
      ],
      sampleBalanceId: newBalanceIds.sample,
      beadBalanceId: newBalanceIds.sample,
    });
  });
});

describe('the recipe for a sample', () => {
  it('is in proportion to the sample, to the step of the balance, lead and iron apart', () => {
    const charge = recipeCharge({
      treatment: {
        recipe: [
          { supplyId: 'soda', gramsPerHundredG: '60' },
          { supplyId: 'shot', gramsPerHundredG: '40' },
          { supplyId: 'nails', gramsPerHundredG: '12.5' },
          { supplyId: 'yellow', gramsPerHundredG: '33.333' },
        ],
      },
      supplies: [
        { id: 'soda', kind: 'reagent' },
        { id: 'shot', kind: 'lead' },
        { id: 'nails', kind: 'iron' },
        { id: 'yellow', kind: 'litharge' },
      ],
      sampleMassG: '50.02',
      stepG: '0.1',
    });
    expect(charge).toEqual({
      reagents: [
        { supplyId: 'soda', massG: '30' },
        { supplyId: 'yellow', massG: '16.7' },
      ],
      collectorLeadG: '20',
      ironInG: '6.3',
    });
  });

  it('names neither lead nor iron where it has none', () => {
    const charge = recipeCharge({ treatment: { recipe: [] }, supplies: [], sampleMassG: '50', stepG: '0.1' });
    expect(charge).toEqual({ reagents: [], collectorLeadG: null, ironInG: null });
  });
});

describe('the draft of a lot', () => {
  const lot: Lot = {
    id: id('1'),
    version: 2,
    seasonId: id('2'),
    code: 'L-07',
    description: 'Bowl concentrate',
    madeOn: '2031-05-04',
    wetMassKg: '640.25',
    moistureFrac: '0.085',
    minerals: [{ mineral: 'pyrite', massFrac: '0.625' }],
    remarks: '',
    dryMassKg: '585.82875',
    takenByTestSmeltsKg: '0',
    takenByBatchesKg: '0',
    takenByLotsKg: '0',
    writtenOffKg: '0',
    leftKg: '585.82875',
    ownerCounterpartyId: null,
    labAssays: [],
    sampling: null,
    parts: [],
    takenByLots: [],
    writeOffs: [],
    purchase: null,
  };
  const sent = (owner: OwnerChoices) => newLot.parse(lotFromDraft(lotDraftOf(lot, owner), owner));

  it('shows fractions in percent and gives back the digits of the record', () => {
    expect(lotDraftOf(lot, comma)).toMatchObject({
      wetMassKg: '640,25',
      moistureFrac: '8,5',
      minerals: [{ mineral: 'pyrite', massFrac: '62,5' }],
    });
    for (const owner of [plainChoices, comma])
      expect(sent(owner)).toMatchObject({ wetMassKg: '640.25', moistureFrac: '0.085' });
  });

  it('gives back a mass that is typed in pounds to the milligram', () => {
    const { wetMassKg } = sent({ ...plainChoices, massUnit: 'lb' });
    expect(Math.abs(Number(wetMassKg) - 640.25)).toBeLessThan(1e-6);
  });
});
