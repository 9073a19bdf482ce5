import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { figure } from './figures.ts';
import type { TestSmelt } from './test-smelt.ts';
import type { Balance } from './weighing.ts';

/** What must be zero or more wherever it is recorded, as the owner calls it, with its unit. */
const massNames = {
  collectorLeadG: ['The mass of collector lead', 'g'],
  lithargeG: ['The mass of litharge', 'g'],
  ironInG: ['The mass of iron put in', 'g'],
  ironOutG: ['The mass of iron taken out', 'g'],
  crucibleVolumeMl: ['The volume of the crucible', 'ml'],
  chargeBulkVolumeMl: ['The bulk volume of the charge', 'ml'],
  buttonG: ['The mass of the button', 'g'],
  matteG: ['The mass of matte', 'g'],
  slagG: ['The mass of slag', 'g'],
  beadMg: ['The mass of the bead', 'mg'],
  partedGoldMg: ['The mass of parted gold', 'mg'],
  inquartSilverMg: ['The silver added for parting', 'mg'],
} as const;

const isMass = (mass: number): boolean => Number.isFinite(mass) && mass >= 0;
const isMeasured = ({ value, u }: Measured): boolean => Number.isFinite(value) && isMass(u);
const isFraction = (measured: Measured): boolean =>
  isMeasured(measured) && measured.value >= 0 && measured.value < 1;
const isBalance = (balance: Balance): boolean =>
  isMass(balance.readabilityG) && isMass(balance.repeatabilityG);

function impossible(path: string, sentence: string): Finding {
  return { code: 'impossible-entry', level: 'blocker', path, sentence };
}

/**
 * Lets through what a balance can show. An impossible entry (negative, not a number, a loss of everything)
 * is said and then counts as not recorded; without a sample mass and two balances nothing can be worked out.
 */
export function admitEntries(recorded: TestSmelt): { smelt: TestSmelt | null; findings: Finding[] } {
  const findings: Finding[] = [];
  const smelt: TestSmelt = { ...recorded };

  for (const [field, [name, unit]] of Object.entries(massNames) as [
    keyof typeof massNames,
    readonly [string, string],
  ][]) {
    const mass = recorded[field];
    if (mass == null || isMass(mass)) continue;
    smelt[field] = null;
    findings.push(
      impossible(`/${field}`, `${name} is ${figure(mass)} ${unit}; it must be zero or more. It is left out.`),
    );
  }
  if (recorded.roast !== null) {
    smelt.roast = { ...recorded.roast };
    for (const field of ['massBeforeG', 'massAfterG'] as const) {
      const mass = recorded.roast[field];
      if (mass === null || isMass(mass)) continue;
      smelt.roast[field] = null;
      findings.push(
        impossible(
          `/roast/${field}`,
          `A mass of the roast is ${figure(mass)} g; it must be zero or more. It is left out.`,
        ),
      );
    }
  }
  smelt.reagents = recorded.reagents.map((reagent, i) => {
    if (isMass(reagent.massG)) return reagent;
    findings.push(
      impossible(
        `/reagents/${i}/massG`,
        `The mass of ${reagent.name} is ${figure(reagent.massG)} g; it must be zero or more. The mass of the charge is not known.`,
      ),
    );
    // Not a number, so that no comparison with the mass of the charge comes out true.
    return { ...reagent, massG: Number.NaN };
  });

  if (
    recorded.blankMgPerGLead &&
    !(isMeasured(recorded.blankMgPerGLead) && recorded.blankMgPerGLead.value >= 0)
  ) {
    smelt.blankMgPerGLead = null;
    findings.push(
      impossible('/blankMgPerGLead', 'The silver in the lead (blank) must be zero or more. It is left out.'),
    );
  }
  if (recorded.sampleLeadFrac && !isFraction(recorded.sampleLeadFrac)) {
    smelt.sampleLeadFrac = null;
    findings.push(
      impossible('/sampleLeadFrac', 'The lead in the sample must be a fraction from 0 to 1. It is left out.'),
    );
  }
  const correction = recorded.cupellationCorrection;
  if (correction && !(isFraction(correction.goldLossFrac) && isFraction(correction.silverLossFrac))) {
    smelt.cupellationCorrection = null;
    findings.push(
      impossible(
        '/cupellationCorrection',
        'A cupellation loss must be a fraction from 0 to below 1. The correction is left out.',
      ),
    );
  }
  const labRatio = recorded.silverToGoldRatioFromAssay;
  if (labRatio && !(isMeasured(labRatio) && labRatio.value >= 0)) {
    smelt.silverToGoldRatioFromAssay = null;
    findings.push(
      impossible(
        '/silverToGoldRatioFromAssay',
        'The silver to gold ratio of the lab assay must be zero or more. It is left out.',
      ),
    );
  }
  const sampling = recorded.sampling;
  if (sampling && !(isMass(sampling.relativeSdGold) && isMass(sampling.relativeSdSilver))) {
    smelt.sampling = null;
    findings.push(impossible('/sampling', 'A relative sampling error must be zero or more. It is left out.'));
  }

  let workable = true;
  if (!(isMass(recorded.sampleMassG) && recorded.sampleMassG > 0)) {
    workable = false;
    findings.push({
      code: 'sample-mass-missing',
      level: 'blocker',
      path: '/sampleMassG',
      sentence: `The sample mass is ${figure(recorded.sampleMassG)} g; without a mass above zero no grade can be worked out.`,
    });
  }
  for (const field of ['sampleBalance', 'beadBalance'] as const) {
    if (isBalance(recorded[field])) continue;
    workable = false;
    findings.push(
      impossible(
        `/${field}`,
        `Readability and repeatability of ${recorded[field].name} must be zero or more; without them no uncertainty can be worked out.`,
      ),
    );
  }
  return { smelt: workable ? smelt : null, findings };
}
