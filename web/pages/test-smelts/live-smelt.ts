import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import { checkCharge } from '../../../api/calc/facts/check-charge.ts';
import type { TestSmeltFacts } from '../../../api/calc/facts/records.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import type { SmeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';
import type { Finding } from '../../../api/calc/finding.ts';
import type { RecipeWork } from '../../../api/calc/smelting/recipe-work.ts';

/** A test smelt worked up while it is being typed. */
export interface LiveSmelt {
  /** What the charge will do, or was to do; null until there is a charge to judge. */
  chargeWork: RecipeWork | null;
  /** What can be said of the charge before it goes into the furnace. */
  foreseen: Finding[];
  /** Something that came out of the furnace is weighed: what was foreseen is past. */
  melted: boolean;
  /** What the weighings before the furnace say. */
  chargeFindings: Finding[];
  /** Null until there is a sample mass and both balances are known. */
  result: TestSmeltResult | null;
  /** What came out of the crucible says. */
  productFindings: Finding[];
  /** What bead and gold say. */
  beadFindings: Finding[];
  /** What is not weighed yet, and what it would tell. */
  toCome: string[];
}

/** Findings that only say what is not weighed yet: while a test is under way that is no fault. */
const stillToCome: Readonly<Record<string, string>> = {
  'roast-mass-missing': 'the masses before and after the roast: the roast loss',
  'lead-charged-missing': 'collector lead or litharge: lead return and blank',
  'button-missing': 'the button: the lead return',
  'matte-missing': 'the matte, 0 where none fell: the matte fall',
  'slag-missing': 'the slag: the slag fall',
  'bead-missing': 'the bead: gold and silver together',
  'gold-not-parted': 'the parted gold: gold and silver apart',
  'blank-missing': 'a blank of the lead: silver that came with the lead is counted as the sample’s',
};

/** Said on the page of the test, once it is saved. */
const onlyWhenSaved = 'sampling-error-left-out';

const ofBead = ['/beadMg', '/partedGoldMg', '/blank', '/beadBalance', '/inquartSilverMg'];
const ofCharge = ['/sampleMassG', '/roast', '/reagents', '/collectorLeadG', '/lithargeG', '/sampleBalance'];
const startsWithOne = (path: string, starts: readonly string[]): boolean =>
  starts.some((start) => path.startsWith(start));

/** Stands for the lot while none is chosen. */
const noLot: SmeltFacts['lot'] = { minerals: [], labAssays: [], dryMassKg: '0', sampling: null };

export function workLiveSmelt(
  record: TestSmeltFacts,
  facts: { lot: SmeltFacts['lot'] | null } & Omit<SmeltFacts, 'lot'>,
): LiveSmelt {
  const { balances, supplies } = facts;
  const lot = facts.lot ?? noLot;
  const charge = facts.lot === null ? null : checkCharge(record, { lot, supplies });
  const known = (id: string): boolean => balances.some((balance) => balance.id === id);
  const workable = record.sampleMassG > 0 && known(record.sampleBalanceId) && known(record.beadBalanceId);
  const { result, findings } = workable
    ? workRecord(record, { ...facts, lot })
    : { result: null, findings: [] };
  const melted = [record.buttonG, record.matteG, record.slagG, record.beadMg].some((mass) => mass !== null);
  const said = findings.filter(
    ({ code }) =>
      !(code in stillToCome) &&
      code !== onlyWhenSaved &&
      // Before the melt, the check of the charge says it, and says what would be right.
      (melted || code !== 'crucible-over-filled'),
  );
  return {
    chargeWork: charge?.work ?? null,
    foreseen: charge?.findings ?? [],
    melted,
    chargeFindings: said.filter(({ path }) => startsWithOne(path, ofCharge)),
    result,
    productFindings: said.filter(({ path }) => !startsWithOne(path, [...ofBead, ...ofCharge])),
    beadFindings: said.filter(({ path }) => startsWithOne(path, ofBead)),
    toCome: [
      ...new Set(findings.flatMap(({ code }) => (code in stillToCome ? [stillToCome[code] ?? ''] : []))),
    ],
  };
}

/** A recorded test worked up, with every finding. */
export function workRecord(
  record: TestSmeltFacts,
  facts: SmeltFacts,
): { result: TestSmeltResult; findings: Finding[] } {
  const { smelt, findings } = smeltFromRecord(record, facts);
  const result = workTestSmelt(smelt);
  return { result, findings: [...result.findings, ...findings] };
}
