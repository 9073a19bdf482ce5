import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { atomicWeights, elementFrac } from '../smelting/atomic-weights.ts';
import { figure } from './figures.ts';
import type { TestSmelt } from './test-smelt.ts';
import { constant, measuredFrom, minus, over, plus, scaledBy, times, traced } from './traced.ts';
import type { Traced } from './traced.ts';
import { sources } from './uncertainty-budget.ts';
import { weighedG } from './weighing.ts';

/** Lead in litharge, PbO: 92.83 %. */
const leadFracOfLitharge = elementFrac({ formula: { Pb: 1, O: 1 }, element: 'Pb' });
/** Sulfur bound by lead as PbS: 0.15473 g per g of lead. */
const sulfurBoundPerLead = atomicWeights.S / atomicWeights.Pb;

export interface LeadBookkeeping {
  leadInG: Measured | null;
  leadReturnFrac: Measured | null;
  leadMissingG: Measured | null;
  blankMg: Traced | null;
  findings: Finding[];
}

/**
 * Follows the lead. Lead in [g] = collector + 0.9283 × litharge + lead assayed in the sample; lead return =
 * button/lead in. The blank [mg] = silver per g of lead × collector lead, or, where the collector is reduced
 * from litharge, × the lead in the litharge. A collector or litharge that is not recorded counts as not used,
 * unless neither is: then nothing here can be worked out.
 */
export function workLead(smelt: TestSmelt, sample: Traced): LeadBookkeeping {
  const { collectorLeadG, lithargeG, buttonG, sampleBalance: balance } = smelt;
  if (collectorLeadG === null && lithargeG === null) {
    return {
      leadInG: null,
      leadReturnFrac: null,
      leadMissingG: null,
      blankMg: null,
      findings: [
        {
          code: 'lead-charged-missing',
          level: smelt.blankMgPerGLead === null ? 'note' : 'warning',
          path: '/collectorLeadG',
          sentence:
            'Neither collector lead nor litharge is recorded, so lead in, lead return and blank could not be worked out; the silver of the lead is still in the silver grade.',
        },
      ],
    };
  }
  const collector = traced(sources.collectorLead, weighedG({ massG: collectorLeadG ?? 0, balance }));
  const litharge = traced(sources.litharge, weighedG({ massG: lithargeG ?? 0, balance }));
  const chargedAsMetal = collectorLeadG ? collector : constant(0);
  const chargedAsLitharge = lithargeG ? scaledBy(litharge, leadFracOfLitharge) : constant(0);
  const inSample = smelt.sampleLeadFrac
    ? times(traced(sources.sampleLead, smelt.sampleLeadFrac), sample)
    : constant(0);
  const leadIn = plus(plus(chargedAsMetal, chargedAsLitharge), inSample);
  const button = buttonG === null ? null : traced(sources.button, weighedG({ massG: buttonG, balance }));
  const missing = button && minus(leadIn, button);
  const blankMg = smelt.blankMgPerGLead
    ? times(traced(sources.blank, smelt.blankMgPerGLead), collectorLeadG ? chargedAsMetal : chargedAsLitharge)
    : null;

  return {
    leadInG: measuredFrom(leadIn),
    leadReturnFrac: button && leadIn.value > 0 ? measuredFrom(over(button, leadIn)) : null,
    leadMissingG: missing && measuredFrom(missing),
    blankMg,
    findings: [...blankFindings(smelt), ...buttonFindings(smelt, missing && measuredFrom(missing))],
  };
}

function blankFindings(smelt: TestSmelt): Finding[] {
  if (smelt.blankMgPerGLead === null) {
    return [
      {
        code: 'blank-missing',
        level: 'note',
        path: '/blankMgPerGLead',
        sentence:
          'No blank of the lead is given, so the silver that came with the lead is counted as silver of the sample; a blank cupellation of the same lead would tell it.',
      },
    ];
  }
  if (!smelt.collectorLeadG || !smelt.lithargeG) return [];
  return [
    {
      code: 'blank-leaves-out-litharge',
      level: 'note',
      path: '/lithargeG',
      sentence:
        'The blank is taken on the collector lead only; silver that came with the litharge is still in the silver grade.',
    },
  ];
}

function buttonFindings(smelt: TestSmelt, missing: Measured | null): Finding[] {
  if (missing === null) {
    return [
      {
        code: 'button-missing',
        level: 'note',
        path: '/buttonG',
        sentence: 'No button mass is recorded, so the lead return could not be worked out.',
      },
    ];
  }
  if (missing.value < -2 * missing.u) {
    const assayed = smelt.sampleLeadFrac ? '' : ' (lead in the sample is not known)';
    return [
      {
        code: 'button-heavier-than-lead',
        level: 'warning',
        path: '/buttonG',
        sentence: `The button is ${figure(-missing.value)} g heavier than the lead that went in${assayed}: lead, copper or antimony reduced out of the sample, or matte held in the button.`,
      },
    ];
  }
  if (missing.value > 2 * missing.u) {
    return [
      {
        code: 'lead-missing-from-button',
        level: 'note',
        path: '/buttonG',
        sentence: `${figure(missing.value)} g of the lead that went in is not in the button: it is in matte, slag or fume. If all of it went to matte it bound ${figure(missing.value * sulfurBoundPerLead)} g of sulfur.`,
      },
    ];
  }
  return [];
}
