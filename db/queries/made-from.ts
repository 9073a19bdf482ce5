import { createHash } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import { lotsBehind } from './lineage-cycle.ts';
import { partsOfLots } from './lot-parts.ts';
import { findLot } from './lots.ts';
import { listTrials } from './test-smelts.ts';
import { historyFor, type treatmentHistory } from './treatment-history.ts';
import { usualAssayUncertainty } from '../../api/calc/assay/lab-assay.ts';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import type { EvidenceFacts, MadeFromFacts } from '../../api/calc/facts/records.ts';
import type { Measured } from '../../api/calc/measured.ts';
import type { LotPart } from '../../api/schemas/lot-part.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import type { Database } from '../schema.ts';

/** Of the mill, what every lot's evidence needs. */
export interface MillEvidence extends Pick<
  EvidenceFacts,
  'balances' | 'cupellation' | 'supplies' | 'treatments'
> {
  history: Awaited<ReturnType<typeof treatmentHistory>>;
}

export type LotGrade = Record<'Au' | 'Ag', Measured | null>;

const DRAWS = { drawCount: 4000, seed: 1 };
const MOST_KEPT = 1000;
/** Grades by a digest of all that they were inferred from: a lot is worked again only when its records change. */
const worked = new Map<string, LotGrade>();

function gradeOnce(facts: EvidenceFacts): LotGrade {
  const digest = createHash('sha256').update(JSON.stringify(facts)).digest('base64');
  const known = worked.get(digest);
  if (known !== undefined) return known;
  const { summary } = workLot(facts, DRAWS).inference;
  const of = (metal: 'Au' | 'Ag'): Measured | null => {
    const grade = summary[metal].gradeGpt;
    return grade === null ? null : { value: grade.mean, u: grade.sd };
  };
  const grade = { Au: of('Au'), Ag: of('Ag') };
  const [oldest] = worked.keys();
  if (worked.size >= MOST_KEPT && oldest !== undefined) worked.delete(oldest);
  worked.set(digest, grade);
  return grade;
}

/** Infers what the parts of lots hold by the mill's evidence of a day, each lot once, whatever is made from what. */
export function partGrades(db: Kysely<Database>, mill: MillEvidence) {
  const asked = new Map<string, Promise<{ grade: LotGrade; lot: Lot; restsOn: string[] }>>();

  async function infer(lotId: string): Promise<{ grade: LotGrade; lot: Lot; restsOn: string[] }> {
    const lot = await findLot(db, lotId);
    const { history, ...ofMill } = mill;
    const grade = gradeOnce({
      ...ofMill,
      history: historyFor(lotId, history),
      lot: {
        id: lot.id,
        code: lot.code,
        moistureFrac: lot.moistureFrac,
        dryMassKg: lot.dryMassKg,
        minerals: lot.minerals,
        labAssays: lot.labAssays,
        sampling: lot.sampling,
      },
      trials: await listTrials(db, lotId),
      madeFrom: await madeFrom(lotId),
    });
    return { grade, lot, restsOn: await lotsBehind(db, lotId) };
  }

  /** The lots are never made from each other in a ring: the books refuse it. */
  function gradeOf(lotId: string): ReturnType<typeof infer> {
    const known = asked.get(lotId) ?? infer(lotId);
    asked.set(lotId, known);
    return known;
  }

  const madeFrom = async (lotId: string): Promise<MadeFromFacts[]> =>
    madeFromParts(db, await partsOfLots(db, [lotId]), gradeOf);
  return { madeFrom };
}

/** A lot's grade, the lot, and the lots whose records the grade rests on. */
type GradedLot = { grade: LotGrade; lot: Pick<Lot, 'labAssays'>; restsOn: string[] };

/** The parts of a lot, each with what is known of its grade. */
export async function madeFromParts(
  db: Kysely<Database>,
  lotParts: readonly LotPart[],
  gradeOf: (lotId: string) => Promise<GradedLot>,
): Promise<MadeFromFacts[]> {
  const parts: MadeFromFacts[] = [];
  for (const { source, sourceId, sourceCode, dryMassKg } of lotParts) {
    const part = { source, code: sourceCode, dryMassKg };
    if (source === 'lot') {
      const { grade, lot, restsOn } = await gradeOf(sourceId);
      parts.push({ ...part, gradeGpt: grade, restsOnLots: restsOn, labAssays: lot.labAssays });
    } else if (source === 'product')
      parts.push({ ...part, ...(await gradeOfProduct(db, sourceId, gradeOf)) });
    else parts.push({ ...part, gradeGpt: { Au: null, Ag: null }, restsOnLots: [], labAssays: [] });
  }
  return parts;
}

const GPT_PER_FRAC = 1e6;

/** A product by its own assay; a parcel without one holds what its lot holds. */
async function gradeOfProduct(
  db: Kysely<Database>,
  productId: string,
  gradeOf: (lotId: string) => Promise<GradedLot>,
): Promise<Pick<MadeFromFacts, 'gradeGpt' | 'restsOnLots' | 'labAssays'>> {
  const product = await db
    .selectFrom('product')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .select(['product.kind', 'batch.lotId'])
    .select([
      sql<number | null>`gold_fineness_frac::float8`.as('gold'),
      sql<number | null>`silver_fineness_frac::float8`.as('silver'),
      sql<number | null>`gold_standard_uncertainty_frac::float8`.as('goldU'),
      sql<number | null>`silver_standard_uncertainty_frac::float8`.as('silverU'),
    ])
    .where('product.id', '=', productId)
    .executeTakeFirstOrThrow();
  const assayed = (frac: number | null, u: number | null): Measured | null => {
    if (frac === null) return null;
    const value = GPT_PER_FRAC * frac;
    return { value, u: u === null ? usualAssayUncertainty({ value, unit: 'g/t' }) : GPT_PER_FRAC * u };
  };
  const own = { Au: assayed(product.gold, product.goldU), Ag: assayed(product.silver, product.silverU) };
  if (product.kind !== 'parcel' || (own.Au !== null && own.Ag !== null))
    return { gradeGpt: own, restsOnLots: [], labAssays: [] };
  const { grade, lot, restsOn } = await gradeOf(product.lotId);
  return {
    gradeGpt: { Au: own.Au ?? grade.Au, Ag: own.Ag ?? grade.Ag },
    restsOnLots: restsOn,
    labAssays: lot.labAssays,
  };
}
