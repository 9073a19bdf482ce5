import type { z } from 'zod';
import { closestKnown } from './closest.ts';
import { columnOfField, keyFrom, optional, plain, required, type FileKind } from './file-kind.ts';
import { reagentColumns } from './reagent-columns.ts';
import type { RowReader } from './row-reader.ts';
import type { BalanceRecord } from '../schemas/balance.ts';
import type { Supply } from '../schemas/supply.ts';
import { newTestSmelt, newTrial } from '../schemas/test-smelt.ts';
import type { Treatment } from '../schemas/treatment.ts';

/** A test smelt with the trial it belongs to, which may not be recorded yet: the smelt's `trialId` is a stand-in. */
export interface TestSmeltEntry {
  trial: z.output<typeof newTrial>;
  smelt: z.output<typeof newTestSmelt>;
}

/** What the names in the cells are looked up in. */
export interface TestSmeltNames {
  lots: { id: string; code: string }[];
  balances: Pick<BalanceRecord, 'id' | 'name'>[];
  supplies: Pick<Supply, 'id' | 'name' | 'kind'>[];
  treatments: Pick<Treatment, 'id' | 'name'>[];
}

const TRIAL_NOT_RECORDED_YET = '00000000-0000-4000-8000-000000000000';

/** Weighings and the like that may be missing, by their field. */
const optionalNumbers = [
  'massBeforeRoastG',
  'massAfterRoastG',
  'roastHours',
  'roastTempC',
  'collectorLeadG',
  'ironInG',
  'ironOutG',
  'crucibleVolumeMl',
  'buttonG',
  'matteG',
  'slagG',
  'beadMg',
  'partedGoldMg',
  'inquartSilverMg',
  'matteGoldGpt',
  'matteSilverGpt',
  'slagGoldGpt',
  'slagSilverGpt',
  'blankMgPerLeadG',
  'blankStandardUncertaintyMgPerLeadG',
] as const;

const columns = [
  ...['lot', 'trial', 'sample', 'smelted_on', 'sample_mass_g', 'roasted', 'balance', 'bead_balance'].map(
    required,
  ),
  ...['treatment', 'set_aside_reason', 'remarks', ...optionalNumbers.map(columnOfField)].map(optional),
];

/** A file of test smelts: lot, trial and sample are the key. */
export function testSmeltFile(names: TestSmeltNames): FileKind<TestSmeltEntry> {
  const lots = lookup(
    names.lots.map(({ id, code }) => ({ id, name: code })),
    'lots',
  );
  const balances = lookup(names.balances, 'balances');
  const treatments = lookup(names.treatments, 'treatments');
  const reagents = reagentColumns(names.supplies);
  const treatmentOfTrial = new Map<string, { treatmentId: string; row: number }>();

  /** Rows of one trial may leave its treatment out, but not name two. */
  const agreedTreatment = (reader: RowReader, trialKey: string): string | null | undefined => {
    const treatmentId = treatments.find(reader, 'treatment');
    if (treatmentId == null) return treatmentId;
    const before = treatmentOfTrial.get(trialKey);
    if (before === undefined) treatmentOfTrial.set(trialKey, { treatmentId, row: reader.row });
    else if (before.treatmentId !== treatmentId)
      reader.refuse(
        'treatment',
        () =>
          `must be ${treatments.nameOf(before.treatmentId)} as in row ${before.row}: a trial has one treatment`,
      );
    return treatmentId;
  };

  return {
    columns: [...columns, ...reagents.columns],
    whyUnknown: reagents.whyUnknown,
    keyOf: ({ trial, smelt }) => keyFrom(trial.lotId, trial.name, smelt.sample),
    titleOf: ({ trial, smelt }) =>
      `Sample ${smelt.sample} of the trial ${trial.name} on lot ${lots.nameOf(trial.lotId)}`,
    understand: (reader) => {
      const lotId = lots.find(reader, 'lot');
      const trialName = reader.name('trial');
      const trial = reader.checked(
        newTrial,
        { lotId, treatmentId: agreedTreatment(reader, keyFrom(lotId ?? '', trialName)), name: trialName },
        ([field]) => columnOfTrialField[String(field)] ?? '',
      );
      const weighed = reagents.read(reader);
      const smelt = reader.checked(
        newTestSmelt,
        {
          trialId: TRIAL_NOT_RECORDED_YET,
          sample: reader.name('sample'),
          smeltedOn: reader.date('smelted_on'),
          sampleMassG: reader.number('sample_mass_g'),
          roasted: reader.yesNo('roasted'),
          ...Object.fromEntries(optionalNumbers.map((field) => [field, reader.number(columnOfField(field))])),
          reagents: weighed.map(({ supplyId, massG }) => ({ supplyId, massG })),
          sampleBalanceId: balances.find(reader, 'balance'),
          beadBalanceId: balances.find(reader, 'bead_balance'),
          setAsideReason: reader.text('set_aside_reason') || null,
          remarks: reader.text('remarks'),
        },
        ([field, at]) =>
          field === 'reagents'
            ? (weighed[Number(at ?? 0)]?.column ?? '')
            : (columnOfSmeltField[String(field)] ?? columnOfField(field)),
      );
      return trial === null || smelt === null ? null : { trial, smelt };
    },
    shown: ({ trial, smelt }) => ({
      lot: lots.nameOf(trial.lotId),
      trial: trial.name,
      treatment: treatments.nameOf(trial.treatmentId),
      sample: smelt.sample,
      smelted_on: smelt.smeltedOn,
      sample_mass_g: plain(smelt.sampleMassG),
      roasted: smelt.roasted ? 'yes' : 'no',
      ...Object.fromEntries(optionalNumbers.map((field) => [columnOfField(field), plain(smelt[field])])),
      ...reagents.shown(smelt.reagents),
      balance: balances.nameOf(smelt.sampleBalanceId),
      bead_balance: balances.nameOf(smelt.beadBalanceId),
      set_aside_reason: smelt.setAsideReason ?? '',
      remarks: smelt.remarks,
    }),
  };
}

const columnOfTrialField: Record<string, string> = { lotId: 'lot', treatmentId: 'treatment', name: 'trial' };
const columnOfSmeltField: Record<string, string> = {
  sampleBalanceId: 'balance',
  beadBalanceId: 'bead_balance',
};

/** Finds a record by its exact name, else by the only one that differs in case alone. */
function lookup(known: readonly { id: string; name: string }[], plural: string) {
  const byName = new Map(known.map(({ id, name }) => [name, id]));
  const byLowerCase = new Map<string, string | null>();
  for (const { id, name } of known)
    byLowerCase.set(name.toLowerCase(), byLowerCase.has(name.toLowerCase()) ? null : id);
  const byId = new Map(known.map(({ id, name }) => [id, name]));
  return {
    find: (reader: RowReader, column: string): string | null | undefined => {
      const name = reader.name(column);
      if (name === '') return null;
      const id = byName.get(name) ?? byLowerCase.get(name.toLowerCase());
      if (id != null) return id;
      reader.refuse(
        column,
        () => `must be one of the ${plural}; ${closestKnown(name, [...byId.values()], plural)}`,
      );
      return undefined;
    },
    nameOf: (id: string | null): string => (id === null ? '' : (byId.get(id) ?? id)),
  };
}
