import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { workBead } from './bead.ts';
import { admitEntries } from './entries.ts';
import { workLead } from './lead-bookkeeping.ts';
import { workProducts } from './products.ts';
import { workRoast } from './roast.ts';
import { covariance, measuredFrom, over, plus, scaledBy, times, traced } from './traced.ts';
import type { Traced, UncertaintySource } from './traced.ts';
import { budgetOf, sources } from './uncertainty-budget.ts';
import type { BudgetShare } from './uncertainty-budget.ts';
import { weighedG } from './weighing.ts';
import type { Balance } from './weighing.ts';

/** What the test notebook holds of one test smelt. `null` is "not recorded"; 0 is "weighed, and there was none". */
export interface TestSmelt {
  /** As received, dry, BEFORE any roast: the grade is always on this mass. */
  sampleMassG: number;
  roast: null | {
    massBeforeG: number | null;
    massAfterG: number | null;
    hours: number | null;
    tempC: number | null;
  };
  /** Metallic lead charged; not among the reagents. */
  collectorLeadG: number | null;
  /** Litharge (PbO) charged; it is among the reagents as well, the caller picks it out. */
  lithargeG: number | null;
  reagents: { name: string; massG: number }[];
  ironInG: number | null;
  ironOutG: number | null;
  crucibleVolumeMl: number | null;
  /** Bulk volume of the mixed charge, where the caller has worked it out or measured it. */
  chargeBulkVolumeMl?: number | null;
  buttonG: number | null;
  matteG: number | null;
  /** Lab assay of the matte, g/t; null where a metal was not assayed. */
  matteAssay?: { goldGpt: Measured | null; silverGpt: Measured | null };
  slagG: number | null;
  beadMg: number | null;
  partedGoldMg: number | null;
  /** Silver added to the bead, after it was weighed, so that it would part. */
  inquartSilverMg?: number | null;
  /** Weighs everything but bead and parted gold. */
  sampleBalance: Balance;
  /** Weighs bead and parted gold. */
  beadBalance: Balance;
  /** Silver in the collector lead, mg per g of lead, from a blank cupellation. */
  blankMgPerGLead: Measured | null;
  /** Lead assayed in the sample, as a fraction of its mass as received. */
  sampleLeadFrac?: Measured | null;
  /** Off by default: share of each metal lost in the cupel and muffle. */
  cupellationCorrection: null | { silverLossFrac: Measured; goldLossFrac: Measured };
  /** Mass of silver over mass of gold by a lab assay of the lot: the only permitted way to split an unparted bead. */
  silverToGoldRatioFromAssay: Measured | null;
  /** Relative standard deviation of the grade from taking this sample out of the lot. */
  sampling: null | { relativeSdGold: number; relativeSdSilver: number };
}

/** What a test smelt gives. Null where it could not be worked out: a finding says why. */
export interface TestSmeltResult {
  goldGpt: Measured | null;
  silverGpt: Measured | null;
  goldPlusSilverGpt: Measured | null;
  /** Covariance of the gold and the silver grade, (g/t)²: both lean on the same weighings. */
  covarianceGoldSilver: number | null;
  /** Button over lead charged and assayed in the sample. */
  leadReturnFrac: Measured | null;
  /** Matte over sample as received. */
  matteFallFrac: Measured | null;
  /** Slag over sample as received. */
  slagFallFrac: Measured | null;
  /** Mass lost in the roast over mass before; negative for a gain. */
  roastLossFrac: Measured | null;
  leadInG: Measured | null;
  /** Lead charged that is not in the button: in matte, slag, fume. */
  leadMissingG: Measured | null;
  blankMg: Measured | null;
  budget: BudgetShare[];
  findings: Finding[];
}

/**
 * Works a test smelt up to grades.
 *
 * grade [g/t] = 1000 × metal [mg] / sample as received [g]; gold is the parted mass, silver is
 * bead − gold − blank, blank = silver in the lead [mg/g] × lead [g]. Uncertainties by the law of propagation
 * (JCGM 100:2008, 5.1 and 5.2), each weighing by its balance; gold and silver are correlated through the
 * weighings they share. Missing or impossible entries give null and a finding that names what is missing.
 * The arithmetic of weighing, blank and parting: C. and J. J. Beringer, *A Text-book of Assaying*, 9th ed.
 * 1904, chapters on silver and gold.
 */
export function workTestSmelt(recorded: TestSmelt): TestSmeltResult {
  const { smelt, findings: entryFindings } = admitEntries(recorded);
  if (smelt === null) return { ...nothingWorkedOut, findings: entryFindings };

  const sample = traced(sources.sample, weighedG({ massG: smelt.sampleMassG, balance: smelt.sampleBalance }));
  const roast = workRoast(smelt);
  const lead = workLead(smelt, sample);
  const bead = workBead(smelt, lead.blankMg);
  const products = workProducts(smelt, sample, bead);

  const { relativeSdGold, relativeSdSilver } = smelt.sampling ?? { relativeSdGold: 0, relativeSdSilver: 0 };
  const grade = (metalMg: Traced | null, source: UncertaintySource, relativeSd: number): Traced | null =>
    metalMg && times(scaledBy(over(metalMg, sample), 1000), traced(source, { value: 1, u: relativeSd }));
  const gold = grade(bead.goldMg, sources.goldSampling, relativeSdGold);
  const silver = grade(bead.silverMg, sources.silverSampling, relativeSdSilver);
  // Unparted, the share of each metal is unknown: the larger of the two sampling errors is on the safe side.
  const unparted = Math.max(relativeSdGold, relativeSdSilver);
  const goldPlusSilver =
    gold && silver ? plus(gold, silver) : grade(bead.goldPlusSilverMg, sources.unpartedSampling, unparted);

  return {
    goldGpt: gold && measuredFrom(gold),
    silverGpt: silver && measuredFrom(silver),
    goldPlusSilverGpt: goldPlusSilver && measuredFrom(goldPlusSilver),
    covarianceGoldSilver: gold && silver && covariance(gold, silver),
    leadReturnFrac: lead.leadReturnFrac,
    matteFallFrac: products.matteFallFrac,
    slagFallFrac: products.slagFallFrac,
    roastLossFrac: roast.roastLossFrac,
    leadInG: lead.leadInG,
    leadMissingG: lead.leadMissingG,
    blankMg: lead.blankMg && measuredFrom(lead.blankMg),
    budget: [
      ...budgetOf('gold', gold),
      ...budgetOf('silver', silver),
      ...budgetOf('goldPlusSilver', goldPlusSilver),
    ],
    findings: [
      ...entryFindings,
      ...roast.findings,
      ...lead.findings,
      ...bead.findings,
      ...products.findings,
      ...samplingFindings(smelt),
    ],
  };
}

const nothingWorkedOut: Omit<TestSmeltResult, 'findings'> = {
  goldGpt: null,
  silverGpt: null,
  goldPlusSilverGpt: null,
  covarianceGoldSilver: null,
  leadReturnFrac: null,
  matteFallFrac: null,
  slagFallFrac: null,
  roastLossFrac: null,
  leadInG: null,
  leadMissingG: null,
  blankMg: null,
  budget: [],
};

function samplingFindings(smelt: TestSmelt): Finding[] {
  if (smelt.sampling !== null) return [];
  return [
    {
      code: 'sampling-error-left-out',
      level: 'note',
      path: '/sampling',
      sentence:
        'No sampling error is given, so the uncertainty is that of weighing and corrections only; with coarse gold another sample of the lot may differ by much more.',
    },
  ];
}
