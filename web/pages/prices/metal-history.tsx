import { useMemo, useState } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { priceHistory, priceHistoryTable } from '../../../reports/charts/price-history.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { metalName } from '../../lib/metals.ts';
import { useFormat } from '../../lib/owner.ts';
import { quotationsQuery } from '../../lib/price-queries.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { seriesKey } from './series.ts';
import type { Series } from './series.ts';

/** So many days are listed at first, and so many more when asked. */
const LISTED_DAYS = 10;

function titled(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** One metal through time: the chart, and the days, each of which can be taken out again. */
export function MetalHistory(props: { series: Series }) {
  const { series } = props;
  const { data } = useSuspenseQuery(quotationsQuery(series.metal));
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const [listed, setListed] = useState(LISTED_DAYS);
  const quotations = useMemo(
    () => data.filter((one) => seriesKey(one) === seriesKey(series)),
    [data, series],
  );
  const unit = `${series.currency}/${series.unit}`;
  const name = metalName(series.metal);
  const chart = useMemo(
    () => ({
      title: `Price of ${name}`,
      metal:
        series.metal === 'Au'
          ? ('gold' as const)
          : series.metal === 'Ag'
            ? ('silver' as const)
            : ('ink' as const),
      unit,
      quotations: quotations.map(({ quotedOn, price }) => ({ date: quotedOn, price: Number(price) })),
      period: null,
    }),
    [name, quotations, series.metal, unit],
  );
  return (
    <>
      <SceneFigure draw={(width) => priceHistory(chart, width)} table={priceHistoryTable(chart)} />
      <details className="record-form">
        <summary>{titled(name)} by day, to take one out</summary>
        <DataTable
          caption={`${titled(name)}, ${unit}, newest first`}
          narrow="stack"
          columns={[
            { key: 'day', label: 'Day', align: 'start' },
            { key: 'price', label: `Price, ${unit}`, align: 'end' },
            { key: 'source', label: 'Source', align: 'start' },
            { key: 'remove', label: '', align: 'start' },
          ]}
          rows={quotations
            .slice(0, listed)
            .map(({ metal, quotedOn, price, currency, unit: quotedUnit, source }) => ({
              key: quotedOn,
              cells: {
                day: format.date(quotedOn),
                price: format.money(price, ''),
                source,
                remove: (
                  <ConfirmButton
                    sends="DELETE /quotations"
                    label={`Remove ${format.date(quotedOn)}`}
                    question={`The quotation of ${name} of ${format.date(quotedOn)}, ${format.money(price, unit)}, will be gone. Statements that were issued keep the price they were issued with.`}
                    confirmLabel="Remove it"
                    onConfirm={async () => {
                      await send(
                        api.quotations.$delete({ query: { metal, quotedOn, currency, unit: quotedUnit } }),
                      );
                      await booksChanged();
                    }}
                  />
                ),
              },
            }))}
        />
        {quotations.length <= listed ? null : (
          <p className="actions">
            <button type="button" onClick={() => setListed(listed + 4 * LISTED_DAYS)}>
              Show earlier days ({quotations.length - listed} more)
            </button>
          </p>
        )}
      </details>
    </>
  );
}
