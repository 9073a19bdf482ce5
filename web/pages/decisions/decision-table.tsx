import { Link } from '@tanstack/react-router';
import type { DecisionRecord } from '../../../api/schemas/decision.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Range } from '../../parts/range.tsx';

type CarriedOut = DecisionRecord['batches'][number];
type Verdict = NonNullable<CarriedOut['hindsight']>['verdict'];

const verdictWords: Record<Verdict, string> = {
  'above-others': 'the choice turned out right, by what is known',
  'within-reach': 'whether it was the best cannot be told',
  'below-another': 'another was forecast to bring more',
  'nothing-else': 'there was nothing else to choose',
};

const LEFT = 'Left as it is';

/** Recorded decisions, each with its reason and with what came of it. */
export function DecisionTable(props: { decisions: readonly DecisionRecord[]; withLot: boolean }) {
  const { decisions, withLot } = props;
  const format = useFormat();
  const forecast = ({ options, chosen, currency }: DecisionRecord) => {
    const option = options.find((one) => one.id === chosen?.optionId);
    if (option === undefined) return '–';
    const { p10, p50, p90 } = option.netValue;
    return <Range range={{ low: p10, median: p50, high: p90 }} unit={currency} />;
  };
  const cameOf = ({ chosen, batches, currency }: DecisionRecord) => {
    if (chosen === null) return '–';
    if (batches.length === 0) return 'no batch planned from it yet';
    return batches.map(({ batchId, batchCode, hindsight }) => (
      <span className="decision-outcome" key={batchId}>
        <Link to="/batches/$batchId" params={{ batchId }}>
          {batchCode}
        </Link>
        {hindsight === null
          ? ': not settled yet'
          : `: ${format.money(hindsight.actualNetValue, currency)}, ${hindsight.standing} its range; ${verdictWords[hindsight.verdict]}`}
      </span>
    ));
  };
  return (
    <DataTable
      caption="Decisions"
      narrow="stack"
      columns={[
        { key: 'day', label: 'Decided on', align: 'start' },
        ...(withLot ? [{ key: 'lot', label: 'Lot', align: 'start' as const }] : []),
        { key: 'mass', label: 'Dry mass', align: 'end' },
        { key: 'chosen', label: 'Chosen', align: 'start' },
        { key: 'forecast', label: 'Forecast net value', align: 'end' },
        { key: 'came', label: 'What came of it', align: 'start' },
      ]}
      rows={decisions.toReversed().map((decision) => ({
        key: decision.id,
        cells: {
          day: (
            <Link to="/decisions/$decisionId" params={{ decisionId: decision.id }}>
              {format.date(decision.decidedOn)}
            </Link>
          ),
          lot: (
            <Link to="/lots/$lotId" params={{ lotId: decision.lotId }}>
              {decision.lotCode}
            </Link>
          ),
          mass: format.quantity('lotMassKg', Number(decision.dryMassKg)),
          chosen: decision.chosen?.name ?? LEFT,
          forecast: forecast(decision),
          came: cameOf(decision),
        },
        detail: decision.reason,
      }))}
    />
  );
}
