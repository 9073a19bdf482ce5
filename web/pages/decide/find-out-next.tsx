import type { DecisionDepth } from '../../../api/calc/facts/decision-depth.ts';
import type { InquiryCosts, ValuedInquiry } from '../../../api/calc/facts/inquiries.ts';
import { pricedInquiries } from '../../../api/calc/facts/inquiries.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import type { CostName, PageState } from './page-state.ts';

/** What one more test, an assay or a fixed price would be worth before deciding, against what it costs. */
export function FindOutNext(props: {
  information: DecisionDepth['information'];
  costs: InquiryCosts;
  currency: string;
  /** A blend's name in sentences; null for a lot. */
  subject: string | null;
  values: Pick<PageState, CostName>;
  set: (name: CostName, typed: string) => void;
}) {
  const { information, costs, currency, values, set } = props;
  const subject = props.subject ?? 'this lot';
  const bound = (name: CostName) => ({
    value: values[name],
    onChange: (typed: string) => set(name, typed),
  });
  return (
    <>
      <h2>What to find out next</h2>
      {information === null ? null : (
        <FoundOut information={information} costs={costs} currency={currency} subject={subject} />
      )}
      <Fieldset
        legend="What finding out costs"
        hint="All of it: sample, postage, reagents, your own time. What is worth doing follows."
      >
        <MoneyField label="A head assay by a laboratory" {...bound('assayCost')} />
        <MoneyField label="A test smelt" {...bound('smeltCost')} />
        <MoneyField label="A roast test with its test smelt" {...bound('roastCost')} />
        <MoneyField label="An assay of a matte" {...bound('matteCost')} />
        <MoneyField label="Having the price fixed, or waiting for it" {...bound('priceCost')} />
      </Fieldset>
    </>
  );
}

function leadSentence(ranked: readonly ValuedInquiry[], perfect: string | null, subject: string): string {
  const [first] = ranked;
  if (first === undefined)
    return `Nothing is known yet of the gold and silver in ${subject}: the first test smelt or head assay is worth more than can be said here.`;
  if (first.netGain > 0) return first.sentence;
  return perfect === null
    ? `Nothing that could be found out would change the decision for ${subject}.`
    : `Nothing here is worth its cost for ${subject} alone: even knowing everything would be worth only about ${perfect}.`;
}

function FoundOut(props: {
  information: NonNullable<DecisionDepth['information']>;
  costs: InquiryCosts;
  currency: string;
  subject: string;
}) {
  const { information, costs, currency, subject } = props;
  const format = useFormat();
  const ranked = pricedInquiries(information.inquiries, costs, { currency, subject });
  const money = (amount: number): string => `${format.number(amount, 0)} ${currency}`;
  const perfect = information.perfect < 0.5 ? null : money(information.perfect);
  // What comes to less than one would be a row of noughts each: one sentence says it of all.
  const worth = ranked.filter((one) => one.value >= 0.5);
  const worthless = ranked.filter((one) => one.value < 0.5);
  return (
    <>
      <p>{leadSentence(ranked, perfect, subject)}</p>
      {ranked.length === 0 ? null : (
        <>
          {worth.length === 0 ? null : (
            <DataTable
              caption={`What finding out would be worth for ${subject}, ${currency}`}
              narrow="stack"
              columns={[
                { key: 'name', label: 'What to find out', align: 'start' },
                { key: 'value', label: 'Worth about', align: 'end' },
                { key: 'cost', label: 'Costs', align: 'end' },
                { key: 'gain', label: 'Left after its cost', align: 'end' },
                { key: 'chance', label: 'Changes the choice in', align: 'end' },
              ]}
              rows={worth.map((one) => ({
                key: one.id,
                cells: {
                  name: one.name,
                  value: format.number(one.value, 0),
                  cost: format.number(one.cost, 0),
                  gain: format.number(one.netGain, 0),
                  chance: format.chance(one.chanceChangesFrac),
                },
                detail: one.sentence,
              }))}
            />
          )}
          {worthless.length === 0 ? null : (
            <>
              <p>
                These would hardly ever change the decision for {subject}, and are worth next to nothing for
                it:
              </p>
              <ul>
                {worthless.map((one) => (
                  <li key={one.id}>{one.name}</li>
                ))}
              </ul>
            </>
          )}
          <p className="muted">
            Worth is the gain that is expected, on average, from deciding with the answer in hand, for{' '}
            {subject} alone; what it teaches for later lots is not counted. Knowing everything would be worth{' '}
            {perfect ?? 'next to nothing'}. A price fixed today also takes away a risk, which is not counted
            here.
          </p>
        </>
      )}
    </>
  );
}
