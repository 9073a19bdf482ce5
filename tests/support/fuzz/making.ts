import { refinerTerms } from '../../../api/demo/invented-terms.ts';
import { NO_DATES } from '../mill.ts';

/** An answer, of which a request needs no more than this. */
export interface Made {
  id: string;
  version: number;
  [name: string]: unknown;
}

/** With what a sound request is put together: it asks as the owner, and fails unless it is accepted. */
export interface Making {
  ask: (method: string, path: string, body?: unknown, headers?: Record<string, string>) => Promise<unknown>;
  /** Signs in with an account of its own, which nothing else is done with. */
  visitor: () => Promise<{ cookie: string; accountId: string; again: () => Promise<void> }>;
  now: () => Date;
  /** Another one at every call. */
  number: () => number;
}

export const made = async ({ ask }: Making, path: string, body: unknown, method = 'POST'): Promise<Made> =>
  (await ask(method, path, body)) as Made;

export const listed = async ({ ask }: Making, path: string): Promise<Made[]> =>
  (await ask('GET', path)) as Made[];

export const ON = '2026-07-01';

/** A season of a year that no other has, as far as there are any. */
export async function season(making: Making): Promise<Made & { year: number }> {
  const year = 1930 + (making.number() % 90);
  const fields = { name: `F-${making.number()}`, startsOn: `${year}-01-01`, endsOn: `${year}-12-31` };
  return { ...(await made(making, '/api/seasons', fields)), year };
}

const running = async (making: Making): Promise<string> => {
  const seasons = await listed(making, '/api/seasons');
  const held = seasons.filter(({ startsOn, endsOn }) => String(startsOn) <= ON && ON <= String(endsOn));
  if (held[0] !== undefined) return held[0].id;
  return (await made(making, '/api/seasons', { name: 'F', startsOn: '2026-01-01', endsOn: '2026-12-31' })).id;
};

export const lotFields = async (making: Making) => ({
  seasonId: await running(making),
  code: `F-${making.number()}`,
  madeOn: '2026-06-20',
  wetMassKg: '200',
  moistureFrac: '0.05',
  minerals: [{ mineral: 'pyrite', massFrac: '0.6' }],
});

export const lot = async (making: Making): Promise<Made> =>
  made(making, '/api/lots', await lotFields(making));

export const labAssay = {
  laboratory: 'Invented laboratory',
  assayedOn: '2026-06-22',
  element: 'Au',
  unit: 'g/t',
  value: '400',
};

export const assayedLot = async (making: Making): Promise<Made> => {
  const one = await lot(making);
  await made(making, `/api/lots/${one.id}/lab-assays`, labAssay);
  await made(making, `/api/lots/${one.id}/lab-assays`, { ...labAssay, element: 'Ag', value: '900' });
  return one;
};

export const supplyFields = (making: Making) => ({
  name: `F-${making.number()}`,
  kind: 'reagent',
  unit: 'kg',
});
export const supply = (making: Making): Promise<Made> => made(making, '/api/supplies', supplyFields(making));

export const balanceFields = (making: Making) => ({
  name: `F-${making.number()}`,
  readabilityG: '0.001',
  repeatabilityG: '0.001',
});
export const balance = (making: Making): Promise<Made> =>
  made(making, '/api/balances', balanceFields(making));

export const counterparty = (making: Making): Promise<Made> =>
  made(making, '/api/counterparties', { name: `F-${making.number()}` });

export const termsFields = async (making: Making) => ({
  counterpartyId: (await counterparty(making)).id,
  name: `F-${making.number()}`,
  validFrom: '2026-01-01',
  body: refinerTerms,
});
export const terms = async (making: Making): Promise<Made> =>
  made(making, '/api/terms', await termsFields(making));

export const quotation = (making: Making) => ({
  metal: 'Au',
  quotedOn: new Date(Date.UTC(1950, 0, 1 + making.number())).toISOString().slice(0, 10),
  price: '2400',
  currency: 'USD',
  unit: 'ozt',
});

/** When each last entered the prices that statements are worked with: requests of rubbish may take them out again. */
const quotedAt = new WeakMap<Making, number>();
const QUOTED_AGAIN_AFTER = 400;

const quoted = async (making: Making): Promise<void> => {
  const { ask, number } = making;
  const at = number();
  if (at - (quotedAt.get(making) ?? -Infinity) < QUOTED_AGAIN_AFTER) return;
  quotedAt.set(making, at);
  for (const [metal, price] of [
    ['Au', '2400'],
    ['Ag', '30'],
  ])
    for (const day of ['2026-06-25', '2026-06-26', '2026-06-29', '2026-06-30', ON])
      await ask('PUT', '/api/quotations', { metal, quotedOn: day, price, currency: 'USD', unit: 'ozt' });
};

export const batchFields = async (making: Making) => {
  await quoted(making);
  return {
    code: `F-${making.number()}`,
    lotId: (await assayedLot(making)).id,
    treatmentId: (await listed(making, '/api/treatments'))[0]?.id,
    termsId: (await terms(making)).id,
    plannedOn: ON,
    dryMassKg: '50',
    assumptions: { drawCount: 500 },
  };
};
export const batch = async (making: Making): Promise<Made> =>
  made(making, '/api/batches', await batchFields(making));

export const productFields = (making: Making, kind = 'bar') => ({
  code: `F-${making.number()}`,
  kind,
  madeOn: ON,
  massKg: '0.5',
  goldFinenessFrac: '0.3',
  silverFinenessFrac: '0.6',
});
export const product = async (making: Making): Promise<Made> =>
  made(making, `/api/batches/${(await batch(making)).id}/products`, productFields(making));

export const shipmentFields = async (making: Making) => ({
  code: `F-${making.number()}`,
  counterpartyId: (await counterparty(making)).id,
  shippedOn: '2026-07-05',
  productIds: [(await product(making)).id],
});

const assay = (element: string, own: string) => ({
  element,
  unit: 'fineness',
  own,
  buyer: null,
  umpire: null,
});

export const statementFields = async (making: Making) => {
  const { termsId, ...fields } = await batchFields(making);
  const made_ = await made(making, '/api/batches', { ...fields, termsId });
  const bar = await made(making, `/api/batches/${made_.id}/products`, productFields(making));
  return {
    productId: bar.id,
    termsId,
    stage: 'provisional',
    parcel: { kind: 'dore', bars: [{ name: 'Bar', receivedG: '500', afterMeltG: null }] },
    assays: [assay('Au', '300'), assay('Ag', '600')],
    dates: { ...NO_DATES, shippedOn: ON, arrivedOn: ON, statementOn: ON },
  };
};
export const statement = async (making: Making): Promise<Made> =>
  made(making, '/api/statements', await statementFields(making));

export const issued = async (making: Making): Promise<Made> => {
  const draft = await statement(making);
  return made(making, `/api/statements/${draft.id}/issue`, { version: draft.version, issuedOn: ON });
};

export const theirLines = {
  lines: [{ label: 'Treatment', lineId: null, amount: '-10.00' }],
  total: '100.00',
};
