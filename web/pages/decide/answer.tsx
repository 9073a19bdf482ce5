import type { ReactNode } from 'react';
import { isBlocked } from '../../../api/calc/facts/decide-lot.ts';
import type { Finding } from '../../../api/calc/finding.ts';
import type { DecisionFacts } from '../../../api/calc/facts/records.ts';
import {
  netValueByTreatment,
  netValueByTreatmentTable,
} from '../../../reports/charts/net-value-by-treatment.ts';
import type { NetValueChart } from '../../../reports/charts/net-value-by-treatment.ts';
import type { DecideAnswer } from '../../lib/decide-messages.ts';
import { treatmentCautions } from '../../lib/treatment-cautions.ts';
import { useFormat } from '../../lib/owner.ts';
import type { WhatIf } from './what-if.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Lead } from '../../parts/lead.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { BreakdownTable, MeasureTable, OptionTable } from './option-tables.tsx';

interface Answered {
  answer: DecideAnswer;
  stale: boolean;
  facts: DecisionFacts;
}

const isGrave = ({ level }: Finding): boolean => level !== 'note';

/** What the evidence has to say that does not stand in the way: folded, so that the answer is not buried under it. */
function FurtherRemarks(props: { findings: readonly Finding[] }) {
  const { findings } = props;
  if (findings.length === 0) return null;
  return (
    <details>
      <summary>
        {findings.length === 1 ? '1 more remark' : `${findings.length} more remarks`} on what is known of the
        metal
      </summary>
      <FindingList label="Further remarks" findings={findings} />
    </details>
  );
}

/** The decision in one sentence, what to bear in mind, and the picture of it. */
export function AnswerHead(props: Answered & { massKg: number }) {
  const { answer, stale, facts, massKg } = props;
  const { decision, findings, evidenceFindings } = answer;
  const format = useFormat();
  const chart: NetValueChart = {
    title: `Net value by option, ${format.quantity('lotMassKg', massKg)} dry of ${answer.about.code}`,
    unit: facts.currency,
    treatments: decision.options.map((option, place) => ({
      name: option.name,
      low: option.netValue.p10,
      median: option.netValue.p50,
      high: option.netValue.p90,
      best: place === 0,
    })),
  };
  const blocked = isBlocked(answer);
  return (
    <section aria-label="Answer" aria-busy={stale}>
      {blocked ? null : <Lead>{decision.sentence}</Lead>}
      <FindingList
        label="What to bear in mind"
        findings={[...findings, ...decision.reservations, ...evidenceFindings.filter(isGrave)]}
      />
      <FurtherRemarks findings={evidenceFindings.filter((finding) => !isGrave(finding))} />
      {blocked ? null : (
        <SceneFigure
          draw={(width) => netValueByTreatment(chart, width)}
          table={netValueByTreatmentTable(chart)}
        />
      )}
    </section>
  );
}

/** Every option side by side. */
export function AnswerOptions(props: Answered & { batchLink: WhatIf | null }) {
  const { answer, stale, facts, batchLink } = props;
  if (isBlocked(answer)) return null;
  return (
    <section aria-label="Options" aria-busy={stale}>
      <OptionTable decision={answer.decision} currency={facts.currency} batchLink={batchLink} />
      {batchLink === null ? null : (
        <p className="actions">
          <a className="button" href="#record">
            Record a decision
          </a>
        </p>
      )}
    </section>
  );
}

/** Other measures, what the figures are worked from, what is to be done next, and the cautions. */
export function AnswerRest(props: Answered & { children: ReactNode }) {
  const { answer, stale, facts, children } = props;
  const { decision, summary, prices } = answer;
  const format = useFormat();
  const { currency } = facts;
  if (isBlocked(answer)) return null;
  const grade = (metal: 'Au' | 'Ag'): string => {
    const known = summary[metal].gradeGpt;
    return known === null
      ? 'not known'
      : format.measuredQuantity('gradeGpt', { value: known.mean, u: known.sd });
  };
  const price = (metal: 'Au' | 'Ag'): string =>
    `${format.number(prices[metal].spot, 2)} ${currency} per troy ounce, moving about ${format.percent(prices[metal].annualVolatilityFrac, 0)} up or down in a year`;
  return (
    <>
      <section aria-label="Measures and sources" aria-busy={stale}>
        <details>
          <summary>Other measures</summary>
          <MeasureTable decision={decision} currency={currency} />
        </details>
        <details>
          <summary>What it is worked from</summary>
          <Facts
            facts={[
              { label: 'Gold in the lot, on average', value: grade('Au') },
              { label: 'Silver in the lot, on average', value: grade('Ag') },
              { label: 'Gold price', value: price('Au') },
              { label: 'Silver price', value: price('Ag') },
              { label: 'As the books stood on', value: format.date(facts.on) },
            ]}
          />
        </details>
        {decision.options.map((option) => (
          <BreakdownTable key={option.id} option={option} currency={currency} />
        ))}
      </section>
      {children}
      <Cautions
        cautions={treatmentCautions(
          facts.treatments.filter((treatment) => !treatment.retired),
          facts.supplies,
          answer.about.minerals,
        )}
      />
    </>
  );
}
