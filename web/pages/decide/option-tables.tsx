import { Link } from '@tanstack/react-router';
import type { Decision, OptionResult } from '../../../api/calc/economics/decide.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Range } from '../../parts/range.tsx';
import { troyOuncesFromGrams } from '../../../api/calc/units.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { differingFrom } from '../../lib/use-search-state.ts';
import { startingWhatIf } from './what-if.ts';
import type { WhatIf } from './what-if.ts';

const rangeOf = ({ p10, p50, p90 }: { p10: number; p50: number; p90: number }, unit: string) => (
  <Range range={{ low: p10, median: p50, high: p90 }} unit={unit} />
);

/** Every option side by side, best expected net value first. */
export function OptionTable(props: { decision: Decision; currency: string; batchLink: WhatIf | null }) {
  const { decision, currency, batchLink } = props;
  const format = useFormat();
  return (
    <>
      <DataTable
        caption="Options side by side"
        narrow="stack"
        columns={[
          { key: 'name', label: 'Option', align: 'start' },
          { key: 'net', label: 'Net value', align: 'end' },
          { key: 'best', label: 'Is the best in', align: 'end' },
          { key: 'regret', label: 'Given up on average', align: 'end' },
        ]}
        rows={decision.options.map((option) => ({
          key: option.id,
          cells: {
            name: (
              <>
                {option.name}{' '}
                {batchLink === null ? null : (
                  <IfOpen change="POST /batches">
                    <Link
                      className="plan-link"
                      to="/batches/new"
                      search={{ ...differingFrom(startingWhatIf, batchLink), option: option.id }}
                      aria-label={`Plan a batch: ${option.name}`}
                    >
                      Plan a batch
                    </Link>
                  </IfOpen>
                )}
              </>
            ),
            net: rangeOf(option.netValue, currency),
            best: format.chance(option.chanceBestFrac),
            regret: `${format.number(option.expectedRegret, 0)} ${currency}`,
          },
        }))}
      />
      <p className="muted">
        Net value is what is left after all costs: the middle figure, and below it the range in which 8
        outcomes in 10 should lie. “Given up on average” (the expected regret) is what you would miss, on
        average, by choosing this instead of whatever turns out to be the best: the smaller, the safer the
        choice.
      </p>
    </>
  );
}

/** The same options by the measures that a small mill also looks at. */
export function MeasureTable(props: { decision: Decision; currency: string }) {
  const { decision, currency } = props;
  const format = useFormat();
  const { metalUnit } = useOwner();
  const perOzt = metalUnit === 'ozt' ? 1 : 1 / troyOuncesFromGrams(1);
  const metal = ({ p10, p50, p90 }: OptionResult['goldPayableOzt']) =>
    rangeOf({ p10: p10 * perOzt, p50: p50 * perOzt, p90: p90 * perOzt }, metalUnit);
  const money = (value: number | null): string =>
    value === null ? 'none' : `${format.number(value, 0)} ${currency}`;
  return (
    <DataTable
      caption="By other measures (expected values)"
      narrow="stack"
      columns={[
        { key: 'name', label: 'Option', align: 'start' },
        { key: 'gold', label: 'Payable gold', align: 'end' },
        { key: 'silver', label: 'Payable silver', align: 'end' },
        { key: 'tonne', label: 'Per dry tonne', align: 'end' },
        { key: 'ounce', label: 'Per payable troy ounce of gold', align: 'end' },
        { key: 'hour', label: 'Per hour of labour', align: 'end' },
        { key: 'hours', label: 'Hours of labour', align: 'end' },
        { key: 'days', label: 'Days until cash', align: 'end' },
        { key: 'cash', label: 'Cash needed first', align: 'end' },
        { key: 'loss', label: 'Loses money in', align: 'end' },
      ]}
      rows={decision.options.map((option) => ({
        key: option.id,
        cells: {
          name: option.name,
          gold: metal(option.goldPayableOzt),
          silver: metal(option.silverPayableOzt),
          tonne: money(option.perDryTonne),
          ounce: money(option.perPayableGoldOzt),
          hour: money(option.perLabourHour),
          hours: `${format.number(option.labourHours, 1)} h`,
          days: `${format.number(option.daysUntilCash, 0)} days`,
          cash: money(option.cashUpFront),
          loss: format.chance(option.chanceOfLossFrac),
        },
      }))}
    />
  );
}

/** Where one option's expected net value comes from. */
export function BreakdownTable(props: { option: OptionResult; currency: string }) {
  const { option, currency } = props;
  const format = useFormat();
  return (
    <details>
      <summary>{option.name}: where it comes from</summary>
      <DataTable
        caption={`${option.name}: expected amounts, ${currency}`}
        columns={[
          { key: 'label', label: 'Kind', align: 'start' },
          { key: 'amount', label: `Amount, ${currency}`, align: 'end' },
        ]}
        rows={[
          ...option.expectedBreakdown
            .filter(({ amount }) => Math.abs(amount) >= 0.5)
            .map(({ label, amount }) => ({ cells: { label, amount: format.number(amount, 0) } })),
          {
            style: 'total' as const,
            cells: { label: 'Expected net value', amount: format.number(option.netValue.mean, 0) },
          },
        ]}
      />
    </details>
  );
}
