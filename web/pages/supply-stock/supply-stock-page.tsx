import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { StockLine } from '../../../api/schemas/supply-stock.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { stockQuery } from '../../lib/stock-queries.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { kindWords } from '../prices/supply-words.ts';
import { amountText, averageText, overviewSentence, perUnit, shortageSentence } from './stock-words.ts';

/** What is in stock, what it is worth, how long it lasts and what to buy. */
export function SupplyStockPage() {
  const { data: overview } = useSuspenseQuery(stockQuery);
  const format = useFormat();
  const shortages = overview.lines.flatMap((line) => {
    const sentence = shortageSentence(line, overview.asOf, format);
    return sentence === null ? [] : [{ id: line.supplyId, sentence }];
  });
  return (
    <Page title="Supplies in stock">
      <Lead>{overviewSentence(overview, format)}</Lead>
      {shortages.map(({ id, sentence }) => (
        <Notice key={id} level="warning">
          {sentence}
        </Notice>
      ))}
      <FindingList findings={overview.findings} />
      {overview.lines.length === 0 ? (
        <p>
          No supplies are entered yet. <Link to="/prices">Enter them under Prices &amp; costs first</Link>.
        </p>
      ) : (
        <>
          <p className="actions">
            <IfOpen change="POST /supply-purchases">
              <Link className="button" to="/supply-stock/buy">
                Enter a purchase
              </Link>
            </IfOpen>
            <IfOpen change="POST /supply-counts">
              <Link className="button" to="/supply-stock/count">
                Count the stock
              </Link>
            </IfOpen>
            <IfOpen change="POST /imports/:kind">
              <Link className="button" to="/import" search={{ kind: 'purchases' }}>
                Import purchases
              </Link>
            </IfOpen>
          </p>
          <StockTable lines={overview.lines} currency={overview.currency} format={format} />
          <p className="muted">
            The average is a moving one: it changes with each purchase, and what is used goes out at it. How
            long the stock lasts is worked from what the season used per day so far, and is a rough guide
            only.
          </p>
        </>
      )}
    </Page>
  );
}

function StockTable(props: { lines: readonly StockLine[]; currency: string; format: Formatter }) {
  const { lines, currency, format } = props;
  const rows = supplyKinds.flatMap((kind): DataRow[] => {
    const ofKind = lines.filter((line) => line.kind === kind);
    if (ofKind.length === 0) return [];
    return [
      { key: kind, style: 'section', cells: { name: kindWords[kind] } },
      ...ofKind.map((line): DataRow => rowOf(line, currency, format)),
    ];
  });
  return (
    <DataTable
      caption={`Stock at its moving average, ${currency}`}
      narrow="stack"
      columns={[
        { key: 'name', label: 'Supply', align: 'start' },
        { key: 'quantity', label: 'In stock', align: 'end' },
        { key: 'average', label: 'Average cost', align: 'end' },
        { key: 'value', label: `Value, ${currency}`, align: 'end' },
        { key: 'counted', label: 'Last counted', align: 'start' },
        { key: 'lasts', label: 'Lasts about', align: 'end' },
        { key: 'planned', label: 'Planned batches take', align: 'end' },
      ]}
      rows={rows}
    />
  );
}

function rowOf(line: StockLine, currency: string, format: Formatter): DataRow {
  const { stock, outlook, unit } = line;
  const average = stock?.averageCost ?? null;
  return {
    key: line.supplyId,
    cells: {
      name: (
        <Link to="/supply-stock/$supplyId" params={{ supplyId: line.supplyId }}>
          {line.name}
        </Link>
      ),
      quantity: stock === null ? 'not counted yet' : amountText(stock.quantity, unit, format),
      average: average === null ? '–' : `${averageText(average, format)} ${perUnit(currency, unit)}`,
      value: stock === null ? '–' : format.money(stock.value, ''),
      counted: line.lastCountedOn === null ? 'never' : format.date(line.lastCountedOn),
      lasts:
        outlook.daysLeft === null ? '–' : `${outlook.daysLeft} ${outlook.daysLeft === 1 ? 'day' : 'days'}`,
      planned:
        Number(outlook.plannedQuantity) === 0 ? 'nothing' : amountText(outlook.plannedQuantity, unit, format),
    },
  };
}
