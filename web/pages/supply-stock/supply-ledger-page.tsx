import { useMemo, useState } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { StockEntry, SupplyStock } from '../../../api/schemas/supply-stock.ts';
import { stockLevel, stockLevelTable } from '../../../reports/charts/stock-level.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { supplyStockQuery } from '../../lib/stock-queries.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { CountsOfSupply } from './counts-of-supply.tsx';
import { PurchasesOfSupply } from './purchases-of-supply.tsx';
import { amountText, averageText, movementWords, perUnit, shortageSentence } from './stock-words.ts';

const LISTED = 20;

function leadSentence(stock: SupplyStock, format: Formatter): string {
  const { name, unit, currency, outlook } = stock;
  if (stock.stock === null)
    return `${name} was not bought or counted yet: what is used of it is costed at its list price.`;
  const { quantity, value, averageCost } = stock.stock;
  const at =
    averageCost === null
      ? ''
      : `, at ${averageText(averageCost, format)} ${perUnit(currency, unit)} on average`;
  const lasts =
    outlook.daysLeft === null
      ? ''
      : ` At what the season used so far it lasts about ${outlook.daysLeft} ${outlook.daysLeft === 1 ? 'day' : 'days'}.`;
  const short = shortageSentence({ ...stock, lastCountedOn: null }, stock.asOf, format);
  return `${amountText(quantity, unit, format)} of ${name} ${Number(quantity) === 1 ? 'is' : 'are'} in stock, worth ${format.money(value, currency)}${at}.${lasts}${short === null ? '' : ` ${short}`}`;
}

/** One supply's stock: what there is, its level through time, every movement with what was left after it. */
export function SupplyLedgerPage() {
  const supplyId = useRecordId('supplyId');
  const { data: stock } = useSuspenseQuery(supplyStockQuery(supplyId));
  const format = useFormat();
  return (
    <Page title={`${stock.name} in stock`}>
      <Lead>{leadSentence(stock, format)}</Lead>
      <FindingList findings={stock.findings} />
      <p className="actions">
        <IfOpen change="POST /supply-purchases">
          <Link className="button" to="/supply-stock/buy" search={{ supply: supplyId }}>
            Enter a purchase
          </Link>
        </IfOpen>
        <Link className="button" to="/supply-stock">
          Supplies in stock
        </Link>
        <Link className="button" to="/prices/supplies/$supplyId" params={{ supplyId }}>
          List prices
        </Link>
      </p>
      {stock.entries.length === 0 ? null : <Ledger stock={stock} />}
      <PurchasesOfSupply supplyId={supplyId} />
      <CountsOfSupply supplyId={supplyId} unit={stock.unit} hasStock={stock.stock !== null} />
    </Page>
  );
}

function Ledger(props: { stock: SupplyStock }) {
  const { stock } = props;
  const format = useFormat();
  const [listed, setListed] = useState(LISTED);
  const chart = useMemo(
    () => ({
      title: `${stock.name} in stock`,
      unit: stock.unit === 'each' ? 'pieces' : stock.unit,
      levels: stock.entries.map(({ on, kind, after }) => ({
        date: on,
        quantity: Number(after.quantity),
        isCount: kind === 'count',
      })),
    }),
    [stock],
  );
  const newestFirst = stock.entries.toReversed();
  const unit = stock.unit === 'each' ? 'pieces' : stock.unit;
  return (
    <>
      <SceneFigure draw={(width) => stockLevel(chart, width)} table={stockLevelTable(chart)} />
      <DataTable
        caption={`Movements, newest first; quantities in ${unit}, money in ${stock.currency}`}
        narrow="stack"
        columns={[
          { key: 'on', label: 'Day', align: 'start' },
          { key: 'what', label: 'What', align: 'start' },
          { key: 'quantity', label: 'In or out', align: 'end' },
          { key: 'amount', label: 'Amount', align: 'end' },
          { key: 'left', label: 'Left', align: 'end' },
          { key: 'average', label: 'Average', align: 'end' },
          { key: 'value', label: 'Value', align: 'end' },
        ]}
        rows={newestFirst.slice(0, listed).map((entry) => rowOf(entry, stock, format))}
      />
      {newestFirst.length <= listed ? null : (
        <p className="actions">
          <button type="button" onClick={() => setListed(listed + 4 * LISTED)}>
            Show earlier movements ({newestFirst.length - listed} more)
          </button>
        </p>
      )}
      {stock.earlierEntries === 0 ? null : (
        <p className="muted">{stock.earlierEntries} still earlier movements are not listed here.</p>
      )}
    </>
  );
}

function rowOf(entry: StockEntry, stock: SupplyStock, format: Formatter): DataRow {
  const what = movementWords(entry, stock.kind === 'lead');
  const words =
    entry.kind !== 'count' ? what : Number(entry.quantity) === 0 ? `${what}: as the books said` : what;
  return {
    key: entry.key,
    cells: {
      on: format.date(entry.on),
      what: <Source entry={entry} words={words} />,
      quantity: format.money(entry.quantity, ''),
      amount: format.money(entry.amount, ''),
      left: format.money(entry.after.quantity, ''),
      average: entry.after.averageCost === null ? '–' : averageText(entry.after.averageCost, format),
      value: format.money(entry.after.value, ''),
    },
    detail:
      Number(entry.shortfallAmount) === 0
        ? undefined
        : `The value changes by another ${format.money(entry.shortfallAmount, stock.currency)}: what had been used before it was there is now known to have cost this.`,
  };
}

/** What a movement comes from, with the way to it. */
function Source(props: { entry: StockEntry; words: string }) {
  const { entry, words } = props;
  const { source } = entry;
  if (source.kind === 'batch')
    return (
      <Link to="/batches/$batchId" params={{ batchId: source.id }}>
        {words}
      </Link>
    );
  if (source.kind === 'day')
    return (
      <Link to="/days/$dayId" params={{ dayId: source.id }}>
        {words}
      </Link>
    );
  return <>{words}</>;
}
