import { monitorEventLoopDelay } from 'node:perf_hooks';
import { createApp } from '../../api/app.ts';
import { openDatabase } from '../../db/open.ts';
import { migrate } from '../../db/migrate.ts';
import { fileCounter } from '../../web/pages/season/fetch-archive.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';
import { inventedParcel, TWENTY_CLAUSES } from './invented-parcels.ts';
import { stopwatch } from './timing.ts';

/** Issues statements of invented parcels through the API, over the embedded database in memory. */
async function issuedStatements(count: number) {
  const { db, close } = await openDatabase({ durability: 'fast' });
  await migrate(db);
  const mill = await smallMill(db);
  const { enter, seasonId } = mill;
  const counterparty = await enter('POST', '/counterparties', { name: 'Invented buyer of twenty clauses' });
  const terms = await enter('POST', '/terms', {
    counterpartyId: counterparty.id,
    name: 'Invented contract of twenty clauses',
    validFrom: '2026-01-01',
    body: TWENTY_CLAUSES,
  });
  const prices = [
    ['Au', '3010.25'],
    ['Ag', '31.40'],
    ['Cu', '9460.50'],
  ];
  const agreedPrices = prices.map(([metal, price]) => ({ metal, price, basis: 'invented daily price' }));
  let lines = 0;
  for (let number = 0; number < count; number += 1) {
    const { entry } = await soldParcel(mill, `B${number}`);
    const { parcel, assays } = inventedParcel(number);
    const dates = { ...entry.dates, statementOn: '2026-07-02' };
    const sold = { ...entry, termsId: terms.id, stage: 'final', parcel, assays, dates, agreedPrices };
    const { settlement } = await issue(mill, sold, '2026-07-02');
    lines = settlement.lines.length;
  }
  return { db, close, seasonId, lines };
}

/** The archive of a season's statements as it is downloaded: its time, what it holds up, and its memory. */
export async function measureArchive(count: number) {
  const { db, close, seasonId, lines } = await issuedStatements(count);
  const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
  const beforeMb = process.memoryUsage.rss() / 2 ** 20;
  const waits = monitorEventLoopDelay({ resolution: 1 });
  let counted = 0;
  const countFiles = fileCounter((files) => {
    counted = files;
  });
  let bytes = 0;
  let mostMb = 0;
  waits.enable();
  const read = stopwatch();
  const response = await app.request(`/api/seasons/${seasonId}/statements.zip`);
  if (response.body === null || response.status !== 200)
    throw new Error(`The archive was answered with ${response.status}.`);
  for await (const chunk of response.body) {
    bytes += chunk.length;
    countFiles(chunk);
    mostMb = Math.max(mostMb, process.memoryUsage.rss() / 2 ** 20);
  }
  const time = read();
  waits.disable();
  await close();
  return {
    files: Number(response.headers.get('x-statement-count')),
    lines,
    time,
    bytes,
    counted,
    longestWaitMs: waits.max / 1e6,
    medianWaitMs: waits.percentile(50) / 1e6,
    beforeMb,
    mostMb,
  };
}
