import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { figure } from './figures.ts';
import type { TestSmelt } from './test-smelt.ts';
import { constant, measuredFrom, minus, over, traced } from './traced.ts';
import { sources } from './uncertainty-budget.ts';
import { weighedG } from './weighing.ts';

/**
 * Roast loss = (before − after)/before, a fraction of the mass before; negative for a gain. Null without both
 * masses. For grades the sample mass counts, not these.
 */
export function workRoast(smelt: TestSmelt): { roastLossFrac: Measured | null; findings: Finding[] } {
  if (smelt.roast === null) return { roastLossFrac: null, findings: [] };
  const { massBeforeG, massAfterG } = smelt.roast;
  const findings: Finding[] = [];

  if (massBeforeG !== null && Math.abs(massBeforeG - smelt.sampleMassG) > smelt.sampleBalance.readabilityG) {
    findings.push({
      code: 'roast-mass-differs-from-sample',
      level: 'note',
      path: '/roast/massBeforeG',
      sentence: `The mass before the roast, ${figure(massBeforeG)} g, is not the sample mass, ${figure(smelt.sampleMassG)} g; the grade is on the sample mass, which must be the as-received mass of what was smelted.`,
    });
  }
  if (massBeforeG === null || massAfterG === null || massBeforeG === 0) {
    findings.push({
      code: 'roast-mass-missing',
      level: 'note',
      path: massAfterG === null ? '/roast/massAfterG' : '/roast/massBeforeG',
      sentence: 'The roast was not weighed both before and after, so the roast loss could not be worked out.',
    });
    return { roastLossFrac: null, findings };
  }
  const balance = smelt.sampleBalance;
  const before = traced(sources.roastBefore, weighedG({ massG: massBeforeG, balance }));
  const after = traced(sources.roastAfter, weighedG({ massG: massAfterG, balance }));
  const loss = minus(constant(1), over(after, before));
  if (massAfterG > massBeforeG) {
    findings.push({
      code: 'roast-gained-mass',
      level: 'warning',
      path: '/roast/massAfterG',
      sentence: `The roast gained ${figure(massAfterG - massBeforeG)} g; a dead roast loses mass. Galena can gain as lead sulfate; otherwise look for a weighing error or something picked up from the pan.`,
    });
  }
  return { roastLossFrac: measuredFrom(loss), findings };
}
