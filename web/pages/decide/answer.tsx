import { cautionsFor } from '../../../api/calc/smelting/cautions.ts';
import type { DecisionFacts } from '../../../api/calc/facts/records.ts';
import {
  netValueByTreatment,
  netValueByTreatmentTable,
} from '../../../reports/charts/net-value-by-treatment.ts';
import type { NetValueChart } from '../../../reports/charts/net-value-by-treatment.ts';
import type { DecideAnswer } from '../../lib/decide-messages.ts';
import { useFormat } from '../../lib/owner.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Lead } from '../../parts/lead.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { BreakdownTable, MeasureTable, OptionTable } from './option-tables.tsx';

/** What the options of this lot can do to whoever works them up. */
function cautionsOf(facts: DecisionFacts): string[] {
  const treatments = facts.treatments.filter((treatment) => !treatment.retired);
  const names = treatments.flatMap((treatment) =>
    treatment.recipe.map((one) => facts.supplies.find((supply) => supply.id === one.supplyId)),
  );
  const uses = (word: RegExp): boolean =>
    names.some((supply) => supply !== undefined && word.test(supply.name));
  return cautionsFor({
    roast: treatments.some((treatment) => treatment.roast),
    arsenopyrite: facts.lot.minerals.some((one) => one.mineral === 'arsenopyrite'),
    nitre: uses(/nitre|saltpet(re|er)|(potassium|sodium) nitrate/i),
    reducers: uses(/flour|charcoal|tartar|sugar/i),
    lead: names.some((supply) => supply?.kind === 'lead' || supply?.kind === 'litharge'),
    nitricAcid: false,
    mercury: false,
  }).map((caution) => `${caution.title}. ${caution.text}`);
}

/** The decision: the sentence, what to bear in mind, the options, and the figures behind them. */
export function Answer(props: {
  answer: DecideAnswer;
  stale: boolean;
  facts: DecisionFacts;
  massKg: number;
  batchLink: { lot: string; mass: string; on: string };
}) {
  const { answer, stale, facts, massKg, batchLink } = props;
  const { decision, findings, evidenceFindings, summary, prices } = answer;
  const format = useFormat();
  const { currency } = facts;
  const blocked = findings.some((finding) => finding.level === 'blocker');
  const chart: NetValueChart = {
    title: `Net value by option, ${format.quantity('lotMassKg', massKg)} dry of ${facts.lot.code}`,
    unit: currency,
    treatments: decision.options.map((option, place) => ({
      name: option.name,
      low: option.netValue.p10,
      median: option.netValue.p50,
      high: option.netValue.p90,
      best: place === 0,
    })),
  };
  const grade = (metal: 'Au' | 'Ag') => {
    const known = summary[metal].gradeGpt;
    return known === null
      ? 'not known'
      : format.measuredQuantity('gradeGpt', { value: known.mean, u: known.sd });
  };
  const price = (metal: 'Au' | 'Ag'): string =>
    `${format.number(prices[metal].spot, 2)} ${currency}/ozt, moving ${format.percent(prices[metal].annualVolatilityFrac, 0)} a year`;
  return (
    <section aria-label="Answer" aria-busy={stale}>
      {blocked ? null : <Lead>{decision.sentence}</Lead>}
      <FindingList
        label="What to bear in mind"
        findings={[...findings, ...decision.reservations, ...evidenceFindings]}
      />
      {blocked || decision.options.length === 0 ? null : (
        <>
          <SceneFigure
            draw={(width) => netValueByTreatment(chart, width)}
            table={netValueByTreatmentTable(chart)}
          />
          <OptionTable decision={decision} currency={currency} batchLink={batchLink} />
          <MeasureTable decision={decision} currency={currency} />
          <h2>Where it comes from</h2>
          <Facts
            facts={[
              { label: 'Gold in the lot', value: grade('Au') },
              { label: 'Silver in the lot', value: grade('Ag') },
              { label: 'Gold price', value: price('Au') },
              { label: 'Silver price', value: price('Ag') },
              { label: 'As the books stood on', value: format.date(facts.on) },
            ]}
          />
          {decision.options.map((option) => (
            <BreakdownTable key={option.id} option={option} currency={currency} />
          ))}
          <Cautions cautions={cautionsOf(facts)} />
        </>
      )}
    </section>
  );
}
