import { Link, useNavigate } from '@tanstack/react-router';
import type { Quotation } from '../../../api/schemas/supply.ts';
import { metalName } from '../../lib/metals.ts';
import { useFormat } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { MetalHistory } from './metal-history.tsx';
import { QuotationForm } from './quotation-form.tsx';
import { ageText, seriesKey, seriesName } from './series.ts';

/** The last quotation of each metal, one of them through time, and a new one by hand. */
export function MetalPrices(props: { latest: readonly Quotation[]; today: string }) {
  const { latest, today } = props;
  const format = useFormat();
  const navigate = useNavigate();
  const asked = useAsked('metal');
  const shown =
    latest.find((one) => seriesKey(one) === asked) ?? latest.find(({ metal }) => metal === 'Au') ?? latest[0];
  return (
    <>
      <p>
        Many at once come from a table:{' '}
        <Link to="/import" search={{ kind: 'quotations' }}>
          import quotations
        </Link>
        .
      </p>
      <DataTable
        caption="Last quotation of each metal"
        narrow="stack"
        empty="No metal is quoted yet. Enter a price below: without gold and silver nothing can be decided."
        columns={[
          { key: 'metal', label: 'Metal', align: 'start' },
          { key: 'price', label: 'Price', align: 'end' },
          { key: 'day', label: 'Day', align: 'start' },
          { key: 'age', label: 'Age', align: 'start' },
          { key: 'source', label: 'Source', align: 'start' },
        ]}
        rows={latest.map((one) => ({
          key: seriesKey(one),
          cells: {
            metal: `${metalName(one.metal)} (${one.metal})`,
            price: format.money(one.price, `${one.currency}/${one.unit}`),
            day: format.date(one.quotedOn),
            age: ageText(one.quotedOn, today),
            source: one.source,
          },
        }))}
      />
      <h2>Enter a quotation</h2>
      <QuotationForm latest={latest} />
      {shown === undefined ? null : (
        <>
          <h2>Quotations through time</h2>
          {latest.length < 2 ? null : (
            <div className="fields">
              <ChoiceField
                label="Metal"
                value={seriesKey(shown)}
                onChange={(metal) =>
                  void navigate({ to: '/prices', search: { metal }, replace: true, resetScroll: false })
                }
                choices={latest.map((one) => ({ value: seriesKey(one), label: seriesName(one) }))}
              />
            </div>
          )}
          <MetalHistory key={seriesKey(shown)} series={shown} />
        </>
      )}
    </>
  );
}
