import type { Finding } from '../finding.ts';
import { elementFractions } from '../smelting/minerals.ts';
import type { MineralShare } from '../smelting/minerals.ts';
import type { ReagentMasses } from '../smelting/oxygen-balance.ts';
import type { RecipeWork } from '../smelting/recipe-work.ts';
import { workRecipe } from '../smelting/recipe-work.ts';
import { reagentByName } from '../smelting/reagents.ts';
import type { Reagent } from '../smelting/reagents.ts';
import { sulfurFromRoastLoss } from '../smelting/roast-sulfur.ts';
import { chargeVolume } from '../smelting/volume.ts';
import type { LotFacts, SupplyFacts, TestSmeltFacts } from './records.ts';

export type ChargeRecord = Pick<
  TestSmeltFacts,
  | 'sampleMassG'
  | 'roasted'
  | 'massBeforeRoastG'
  | 'massAfterRoastG'
  | 'reagents'
  | 'collectorLeadG'
  | 'ironInG'
  | 'crucibleVolumeMl'
>;

export interface ChargeFacts {
  lot: Pick<LotFacts, 'minerals'>;
  supplies: readonly Pick<SupplyFacts, 'id' | 'name' | 'kind'>[];
}

/** What is said of a charge whatever the lot is made of. */
const saidWithoutMinerals = new Set(['nitre-with-reducers', 'nitre-above-sample', 'collector-missing']);

export const mineralShares = (lot: ChargeFacts['lot']): MineralShare[] =>
  lot.minerals.map(({ mineral, massFrac }) => ({ mineral, massFrac: Number(massFrac) }));

/** A charge by the reagents that the smelting arithmetic knows, g; and the names of supplies that are none of them. */
export function reagentsOfCharge(
  record: Pick<ChargeRecord, 'reagents' | 'collectorLeadG' | 'ironInG'>,
  supplies: ChargeFacts['supplies'],
): { masses: ReagentMasses; unknown: string[] } {
  const masses: Partial<Record<Reagent, number>> = {};
  const unknown: string[] = [];
  const add = (reagent: Reagent, massG: number): void => {
    if (massG > 0) masses[reagent] = (masses[reagent] ?? 0) + massG;
  };
  for (const { supplyId, massG } of record.reagents) {
    const supply = supplies.find((one) => one.id === supplyId);
    const reagent = supply?.kind === 'litharge' ? 'litharge' : reagentByName(supply?.name ?? '');
    if (reagent !== null) add(reagent, massG);
    else if (supply !== undefined) unknown.push(supply.name);
  }
  add('lead', record.collectorLeadG ?? 0);
  add('iron', record.ironInG ?? 0);
  return { masses, unknown };
}

/** What goes into the crucible of the lot: the calcine where the roast was weighed, else the sample, g. */
function concentrateG({ sampleMassG, roasted, massBeforeRoastG, massAfterRoastG }: ChargeRecord): number {
  return roasted && massBeforeRoastG && massAfterRoastG !== null
    ? (sampleMassG * massAfterRoastG) / massBeforeRoastG
    : sampleMassG;
}

/**
 * Bulk volume of the mixed charge of a test smelt, mL (`chargeVolume`); null where a reagent's bulk density is
 * not known or nothing but the sample is recorded.
 */
export function chargeBulkVolumeMl(record: ChargeRecord, { lot, supplies }: ChargeFacts): number | null {
  const { masses, unknown } = reagentsOfCharge(record, supplies);
  const reagents = (Object.entries(masses) as [Reagent, number][]).map(([reagent, massG]) => ({
    reagent,
    massG,
  }));
  if (unknown.length > 0 || reagents.length === 0) return null;
  return chargeVolume({
    concentrate: { massG: concentrateG(record), minerals: mineralShares(lot) },
    reagents,
    crucibleVolumeMl: record.crucibleVolumeMl,
  }).bulkVolumeMl.value;
}

/** Share of the lot's sulfur that the roast drove off, from its weighings; a roast not weighed counts as dead. */
function sulfurRoastedFrac(record: ChargeRecord, minerals: readonly MineralShare[]): number {
  if (!record.roasted) return 0;
  const { massBeforeRoastG: before, massAfterRoastG: after } = record;
  const sulfurFrac = elementFractions({ minerals }).S ?? 0;
  if (!before || after === null || sulfurFrac === 0) return 1;
  const off = sulfurFromRoastLoss({ lossFrac: (before - after) / before, minerals }).sulfurDrivenOff;
  return off === null ? 1 : Math.min(1, off.valueFrac / sulfurFrac);
}

/**
 * What can be said of a test smelt's charge while it still stands on the bench: what the recipe will do to
 * the lot (`workRecipe`), and whether it fits the crucible. Without the lot's minerals only what holds for
 * any lot is said. Null without a sample mass or any reagent.
 */
export function checkCharge(
  record: ChargeRecord,
  facts: ChargeFacts,
): { work: RecipeWork | null; findings: Finding[] } | null {
  const { masses, unknown } = reagentsOfCharge(record, facts.supplies);
  if (!(record.sampleMassG > 0) || Object.keys(masses).length === 0) return null;
  const minerals = mineralShares(facts.lot);
  const work = workRecipe({
    minerals,
    lotMassG: record.sampleMassG,
    reagents: masses,
    sulfurRoastedFrac: sulfurRoastedFrac(record, minerals),
    crucibleVolumeMl: record.crucibleVolumeMl,
  });
  const findings: Finding[] =
    unknown.length === 0
      ? []
      : [
          {
            code: 'reagent-unknown',
            level: 'note',
            path: '/reagents',
            sentence: `${unknown.join(', ')}: what it does in the charge and how much room it takes is not known, so it is left out of this check.`,
          },
        ];
  if (minerals.length > 0) return { work, findings: [...work.findings, ...findings] };
  return {
    work: null,
    findings: [
      ...work.findings.filter(({ code }) => saidWithoutMinerals.has(code)),
      ...work.volume.findings,
      ...findings,
      {
        code: 'minerals-not-named',
        level: 'note',
        path: '/minerals',
        sentence:
          'The minerals of this lot are not named, so what the charge will do to them (matte, lead reduced, slag) cannot be foretold; name them on the lot.',
      },
    ],
  };
}
