import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import type { Quotation, Supply } from '../../../api/schemas/supply.ts';
import { suppliesQuery } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { metalName } from '../../lib/metals.ts';
import { useFormat } from '../../lib/owner.ts';
import { latestQuotationsQuery } from '../../lib/price-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { ExchangeRates } from './exchange-rates.tsx';
import { MetalPrices } from './metal-prices.tsx';
import { SupplyTable } from './supply-table.tsx';
import { UsualSupplies } from './usual-supplies.tsx';

function suppliesSentence(supplies: readonly Supply[], today: string): string {
  const unpriced = supplies.filter((supply) => priceOn(supply, today) === null);
  if (supplies.length === 0)
    return 'No supplies are entered yet: without them and their prices no treatment can be costed.';
  if (unpriced.length === 0)
    return `${supplies.length === 1 ? 'The one supply has' : `All ${supplies.length} supplies have`} a price.`;
  const names = unpriced.map(({ name }) => name).join(', ');
  return `${unpriced.length} of ${supplies.length} supplies ${unpriced.length === 1 ? 'has' : 'have'} no price yet (${names}): a treatment that needs one of them cannot be costed.`;
}

function goldSentence(latest: readonly Quotation[], format: Formatter): string {
  const [newest] = latest
    .filter(({ metal }) => metal === 'Au')
    .toSorted((a, b) => b.quotedOn.localeCompare(a.quotedOn));
  if (newest === undefined) return 'Gold is not quoted yet.';
  const { metal, price, currency, unit, quotedOn } = newest;
  const name = metalName(metal);
  return `${name[0]?.toUpperCase()}${name.slice(1)} was last quoted at ${format.money(price, `${currency}/${unit}`)} on ${format.date(quotedOn)}.`;
}

/** What the mill buys and what it costs, and what the metals are quoted at. */
export function PricesPage() {
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const today = todayHere();
  const { data: latest } = useSuspenseQuery(latestQuotationsQuery(today));
  const format = useFormat();
  return (
    <Page title="Prices & costs">
      <Lead>
        {suppliesSentence(supplies, today)} {goldSentence(latest, format)}
      </Lead>
      <h2>Supplies</h2>
      <p className="actions">
        {supplies.length === 0 ? null : (
          <IfOpen change="POST /supplies/:id/prices">
            <Link className="button" to="/prices/enter">
              Enter prices
            </Link>
          </IfOpen>
        )}
        <IfOpen change="POST /supplies">
          <Link className="button" to="/prices/supplies/new">
            New supply
          </Link>
        </IfOpen>
        <Link className="button" to="/supply-stock">
          Supplies in stock
        </Link>
      </p>
      <UsualSupplies supplies={supplies} />
      {supplies.length === 0 ? null : <SupplyTable supplies={supplies} today={today} />}
      <h2>Metals</h2>
      <MetalPrices latest={latest} today={today} />
      <h2>Exchange rates</h2>
      <ExchangeRates />
    </Page>
  );
}
