import type { Kysely } from 'kysely';
import { createApp } from '../../api/app.ts';
import { refinerTerms, smelterTerms } from '../../api/demo/invented-terms.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import type { Database } from '../../db/schema.ts';

export interface Answer {
  status: number;
  // Tests read answers as a stranger would, without the program's own types.
  // oxlint-disable-next-line typescript/no-explicit-any
  body: any;
  headers: Headers;
}

export interface MillApi {
  send: (method: string, path: string, body?: unknown, headers?: Record<string, string>) => Promise<Answer>;
  /** Sends and expects success. */
  enter: (method: string, path: string, body?: unknown) => Promise<Answer['body']>;
}

/** The API over a database, with the clock standing at a day. */
export function millApi(db: Kysely<Database>, today = '2026-09-01'): MillApi {
  const app = createApp({ db, now: () => new Date(`${today}T12:00:00Z`) });
  const send: MillApi['send'] = async (method, path, body, headers = {}) => {
    const response = await app.request(`/api${path}`, {
      method,
      headers: {
        // Whatever state it is in, unless a test says which.
        ...(method === 'DELETE' ? { 'if-match': '*' } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    const isJson = (response.headers.get('content-type') ?? '').includes('json');
    return {
      status: response.status,
      body: isJson ? await response.json() : new Uint8Array(await response.arrayBuffer()),
      headers: response.headers,
    };
  };
  return {
    send,
    enter: async (method, path, body) => {
      const answer = await send(method, path, body);
      if (answer.status >= 300)
        throw new Error(`${method} ${path} gave ${answer.status}: ${JSON.stringify(answer.body)}`);
      return answer.body;
    },
  };
}

/** A small invented mill with all that a decision needs, entered through the API. */
export async function smallMill(db: Kysely<Database>, today?: string) {
  await ensureMill(db, 2026);
  const api = millApi(db, today);
  const { enter } = api;
  const [season] = await enter('GET', '/seasons');
  const supply = async (name: string, kind: string, unit: string, price: string): Promise<string> => {
    const { id } = await enter('POST', '/supplies', { name, kind, unit });
    await enter('POST', `/supplies/${id}/prices`, { effectiveOn: '2026-01-01', price, currency: 'USD' });
    return id;
  };
  const soda = await supply('Soda ash', 'reagent', 'kg', '1.40');
  const lead = await supply('Lead', 'lead', 'kg', '3');
  const fuel = await supply('Propane', 'fuel', 'kg', '2');
  const crucible = await supply('Crucible', 'crucible', 'each', '90');
  const wage = await supply('Wage', 'labour', 'h', '25');
  const balance = (await enter('POST', '/balances', {
    name: 'Balance',
    readabilityG: '0.001',
    repeatabilityG: '0.001',
  })) as { id: string };
  const treatment = await enter('POST', '/treatments', {
    name: 'Roast and smelt',
    roast: true,
    recipe: [
      { supplyId: soda, gramsPerHundredG: '60' },
      { supplyId: lead, gramsPerHundredG: '40' },
    ],
    chargeSizeKg: 10,
    roastHoursPerCharge: 2,
    furnaceHoursPerCharge: 1.5,
    labourHoursPerCharge: 2,
    labourSupplyId: wage,
    fuelSupplyId: fuel,
    fuelPerCharge: 6,
    crucibleSupplyId: crucible,
    crucibleLifeCharges: 8,
    leadReturnLowFrac: 0.8,
    leadReturnModeFrac: 0.9,
    leadReturnHighFrac: 0.95,
    goldRecoveryMeanFrac: 0.93,
    goldRecoverySdFrac: 0.04,
    silverRecoveryMeanFrac: 0.9,
    silverRecoverySdFrac: 0.05,
    doreFinenessFrac: 0.95,
    wasteCostPerKg: '0.1',
    daysUntilBar: 10,
  });
  for (const [metal, price] of [
    ['Au', '2400'],
    ['Ag', '30'],
  ])
    for (const day of ['2026-06-01', '2026-06-02', '2026-06-03', '2026-06-04', '2026-06-05'])
      await enter('PUT', '/quotations', { metal, quotedOn: day, price, currency: 'USD', unit: 'ozt' });
  const terms = async (name: string, body: object): Promise<string> => {
    const counterparty = await enter('POST', '/counterparties', { name });
    const { id } = await enter('POST', '/terms', {
      counterpartyId: counterparty.id,
      name: `Contract with ${name}`,
      validFrom: '2026-01-01',
      body,
    });
    return id;
  };
  return {
    ...api,
    seasonId: season.id as string,
    supplies: { soda, lead, fuel, crucible, wage },
    balanceId: balance.id,
    treatmentId: treatment.id as string,
    refinerTermsId: await terms('Invented Refiner', refinerTerms),
    smelterTermsId: await terms('Invented Smelter', smelterTerms),
  };
}

export const NO_DATES = {
  shippedOn: null,
  arrivedOn: null,
  weighedOn: null,
  meltedOn: null,
  assaysExchangedOn: null,
  priceDeclaredOn: null,
  statementOn: null,
};
