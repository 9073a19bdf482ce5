import { codeAt, fromBase32, stepAt } from '../../../api/accounts/totp.ts';
import { GOOD_PASSWORD } from '../accounts.ts';
import * as records from './making.ts';
import { listed, made, type Made, type Making } from './making.ts';
import type { FuzzRequest } from './requests.ts';

export interface Sound {
  path: string;
  body?: unknown;
  file?: string;
  headers?: Record<string, string>;
  as?: FuzzRequest['as'];
}
type Recipe = (making: Making) => Promise<Sound>;

/** A change of a record that was made a moment ago, with what it was made of. */
const changed =
  (path: string, fields: (making: Making) => unknown, at?: (making: Making) => Promise<Made>): Recipe =>
  async (making) => {
    const body = (await fields(making)) as object;
    const one = await (at ?? ((m: Making) => made(m, path, body)))(making);
    return { path: `${path}/${one.id}`, body: { ...body, version: one.version } };
  };

const removed =
  (path: string, make: (making: Making) => Promise<Made>): Recipe =>
  async (making) => {
    const one = await make(making);
    return { path: `${path}/${one.id}`, headers: { 'if-match': '*' } };
  };

const added =
  (path: string, fields: (making: Making) => unknown): Recipe =>
  async (making) => ({ path, body: await fields(making) });

const season = (making: Making) => records.season(making);
const purchase = async (making: Making) => ({
  supplyId: (await records.supply(making)).id,
  boughtOn: records.ON,
  quantity: '10',
  amount: '25.00',
  currency: 'USD',
});
const count = async (making: Making) => ({
  supplyId: (await records.supply(making)).id,
  countedOn: records.ON,
  quantity: '10',
  unitCost: '2.5',
});
const expense = () => ({ spentOn: records.ON, kind: 'rent', amount: '350.00', currency: 'USD' });
const rate = (making: Making) => ({
  currency: 'EUR',
  ratedOn: new Date(Date.UTC(1960, 0, 1 + making.number())).toISOString().slice(0, 10),
  rate: '1.1',
});
const day = async (making: Making) => {
  const { year } = await season(making);
  return {
    day: `${year}-05-04`,
    feedUnit: 't',
    feedTonnesPerUnit: '1',
    feedMoistureFrac: '0.05',
    feedQuantity: '5',
  };
};
const trial = async (making: Making) => ({
  lotId: (await records.lot(making)).id,
  name: `F-${making.number()}`,
});
const smelt = async (making: Making) => {
  const { id: balanceId } = await records.balance(making);
  return {
    trialId: (await made(making, '/api/trials', await trial(making))).id,
    sample: 'A',
    smeltedOn: '2026-06-25',
    sampleMassG: 50,
    roasted: false,
    reagents: [],
    sampleBalanceId: balanceId,
    beadBalanceId: balanceId,
  };
};
/** As one that is there, under another name. */
const treatment = async (making: Making) => {
  const [one] = await listed(making, '/api/treatments');
  const { id: _id, version: _version, ...fields } = one as Made;
  return { ...fields, name: `F-${making.number()}` };
};
const bought = { amount: '1200.00', currency: 'USD', boughtOn: records.ON };
const sampling = {
  model: 'coarse-gold',
  grainSizeMm: 0.5,
  grainShape: 'flake',
  goldFrac: 0.85,
  silverWithGold: true,
};
const proof = async (making: Making) => ({
  metal: 'Au',
  provedOn: records.ON,
  takenMg: 100,
  foundMg: 99.5,
  balanceId: (await records.balance(making)).id,
});
const partOf = async (making: Making) => ({
  source: 'lot',
  sourceId: (await records.lot(making)).id,
  dryMassKg: '10',
  takenOn: '2026-06-20',
});
const writeOff = async (making: Making) => ({
  lotId: (await records.lot(making)).id,
  writtenOffOn: records.ON,
  massKg: '1',
  reason: 'Spilt',
});
const decision = async (making: Making) => {
  const { lotId } = await records.batchFields(making);
  return {
    lotId,
    decidedOn: records.ON,
    dryMassKg: '10',
    chosen: null,
    reason: 'Not yet',
    assumptions: { drawCount: 500 },
  };
};
const theirs = async (making: Making) => ({
  statementId: (await records.issued(making)).id,
  number: `F-${making.number()}`,
  datedOn: records.ON,
  ...records.theirLines,
});
const payment = { paidOn: records.ON, amount: '10.00', currency: 'USD' };
const link = async (making: Making) => ({
  what: 'accountant-csv',
  seasonId: (await season(making)).id,
  days: 7,
});
const newAccount = (making: Making) => ({ name: `fuzz ${making.number()}`, role: 'operator' });

/** Who has asked for codes and not confirmed them yet. */
const codesAsked = async (making: Making) => {
  const { cookie } = await making.visitor();
  const { secret } = (await making.ask(
    'POST',
    '/api/session/codes',
    { password: GOOD_PASSWORD },
    { cookie },
  )) as {
    secret: string;
  };
  return { headers: { cookie }, body: { code: codeAt(fromBase32(secret), stepAt(making.now())) } };
};

const ofVisitor =
  (path: string, body?: unknown): Recipe =>
  async (making) => ({ path, body, headers: { cookie: (await making.visitor()).cookie } });

/**
 * A request of each operation that is accepted, for those whose document alone does not say all that they ask for:
 * records that hang together, versions, codes, what was shown once.
 */
export const soundRequests: Record<string, Recipe> = {
  'POST /api/session': async (making) => {
    const body = newAccount(making);
    const one = (await making.ask('POST', '/api/accounts', body)) as { setupPath: string };
    const token = one.setupPath.split('#')[1];
    await making.ask('POST', '/api/session/set-up', { token, password: GOOD_PASSWORD }, { cookie: '' });
    return { path: '/api/session', body: { name: body.name, password: GOOD_PASSWORD }, as: 'nobody' };
  },
  'DELETE /api/session': ofVisitor('/api/session'),
  'POST /api/session/set-up': async (making) => {
    const one = (await making.ask('POST', '/api/accounts', newAccount(making))) as { setupPath: string };
    const token = one.setupPath.split('#')[1];
    return { path: '/api/session/set-up', body: { token, password: GOOD_PASSWORD }, as: 'nobody' };
  },
  'PUT /api/session/password': ofVisitor('/api/session/password', {
    current: GOOD_PASSWORD,
    password: 'copper gull meadow',
  }),
  'DELETE /api/session/sessions': ofVisitor('/api/session/sessions'),
  'DELETE /api/session/sessions/{id}': async (making) => {
    const { cookie, again } = await making.visitor();
    await again();
    const sessions = (await making.ask('GET', '/api/session/sessions', undefined, { cookie })) as Made[];
    const other = sessions.find(({ isThisOne }) => isThisOne === false);
    return { path: `/api/session/sessions/${other?.id}`, headers: { cookie } };
  },
  'POST /api/session/codes': ofVisitor('/api/session/codes', { password: GOOD_PASSWORD }),
  'PUT /api/session/codes': async (making) => ({ path: '/api/session/codes', ...(await codesAsked(making)) }),
  'POST /api/session/codes/stop': async (making) => {
    const { headers, body } = await codesAsked(making);
    await making.ask('PUT', '/api/session/codes', body, headers);
    return { path: '/api/session/codes/stop', body: { password: GOOD_PASSWORD }, headers };
  },
  'POST /api/accounts': added('/api/accounts', newAccount),
  'PUT /api/accounts/{id}': async (making) => {
    const body = newAccount(making);
    const { account } = (await making.ask('POST', '/api/accounts', body)) as { account: Made };
    return {
      path: `/api/accounts/${account.id}`,
      body: { ...body, disabled: false, version: account.version },
    };
  },
  'DELETE /api/accounts/{id}/sessions/{sessionId}': async (making) => {
    const { accountId } = await making.visitor();
    const [session] = await listed(making, `/api/accounts/${accountId}/sessions`);
    return { path: `/api/accounts/${accountId}/sessions/${session?.id}` };
  },
  'POST /api/download-links': added('/api/download-links', link),
  'DELETE /api/download-links/{id}': async (making) => {
    const one = (await making.ask('POST', '/api/download-links', await link(making))) as { link: Made };
    return { path: `/api/download-links/${one.link.id}`, headers: { 'if-match': '*' } };
  },
  'GET /api/downloads/{token}': async (making) => {
    const one = (await making.ask('POST', '/api/download-links', await link(making))) as { path: string };
    return { path: one.path, as: 'nobody' };
  },
  'PUT /api/mill': async (making) => {
    const { isDemo: _isDemo, ...mill } = (await making.ask('GET', '/api/mill')) as Made;
    return { path: '/api/mill', body: mill };
  },
  'PUT /api/seasons/{id}': async (making) => {
    const { id, year: _year, ...body } = await season(making);
    return { path: `/api/seasons/${id}`, body };
  },
  'POST /api/seasons': added('/api/seasons', (making) => ({
    name: `F-${making.number()}`,
    startsOn: '1931-01-01',
    endsOn: '1931-12-31',
  })),
  'POST /api/months/{month}/close': async (making) => {
    const { months } = (await making.ask('GET', '/api/months')) as {
      months: { month: string; closed: unknown; cannotCloseBecause: string | null }[];
    };
    const free = months.find(
      ({ closed, cannotCloseBecause }) => closed === null && cannotCloseBecause === null,
    );
    return { path: `/api/months/${free?.month}/close` };
  },
  'POST /api/days': added('/api/days', day),
  'PUT /api/days/{id}': changed('/api/days', day),
  'DELETE /api/days/{id}': removed('/api/days', async (making) =>
    made(making, '/api/days', await day(making)),
  ),
  'POST /api/lots': added('/api/lots', records.lotFields),
  'PUT /api/lots/{id}': changed('/api/lots', records.lotFields),
  'DELETE /api/lots/{id}': removed('/api/lots', records.lot),
  'POST /api/lots/{id}/parts': async (making) => ({
    path: `/api/lots/${(await records.lot(making)).id}/parts`,
    body: await partOf(making),
  }),
  'DELETE /api/lots/{id}/parts/{partId}': async (making) => {
    const { id } = await records.lot(making);
    await making.ask('POST', `/api/lots/${id}/parts`, await partOf(making));
    const whole = (await making.ask('GET', `/api/lots/${id}`)) as { parts: Made[] };
    return { path: `/api/lots/${id}/parts/${whole.parts[0]?.id}`, headers: { 'if-match': '*' } };
  },
  'DELETE /api/lots/{id}/lab-assays/{assayId}': async (making) => {
    const { id } = await records.lot(making);
    const one = await made(making, `/api/lots/${id}/lab-assays`, records.labAssay);
    return { path: `/api/lots/${id}/lab-assays/${one.id}`, headers: { 'if-match': '*' } };
  },
  'POST /api/trials': added('/api/trials', trial),
  'PUT /api/trials/{id}': changed('/api/trials', trial),
  'DELETE /api/trials/{id}': removed('/api/trials', async (making) =>
    made(making, '/api/trials', await trial(making)),
  ),
  'POST /api/test-smelts': added('/api/test-smelts', smelt),
  'PUT /api/test-smelts/{id}': async (making) => {
    const fields = await smelt(making);
    const { id, version } = await made(making, '/api/test-smelts', fields);
    return { path: `/api/test-smelts/${id}`, body: { ...fields, version } };
  },
  'DELETE /api/test-smelts/{id}': removed('/api/test-smelts', async (making) =>
    made(making, '/api/test-smelts', await smelt(making)),
  ),
  'POST /api/treatments': added('/api/treatments', treatment),
  'PUT /api/treatments/{id}': async (making) => {
    const fields = await treatment(making);
    const { id, version } = await made(making, '/api/treatments', fields);
    return { path: `/api/treatments/${id}`, body: { ...fields, version } };
  },
  'PUT /api/lots/{id}/purchase': async (making) => ({
    path: `/api/lots/${(await records.lot(making)).id}/purchase`,
    body: bought,
  }),
  'DELETE /api/lots/{id}/purchase': async (making) => {
    const { id } = await records.lot(making);
    await making.ask('PUT', `/api/lots/${id}/purchase`, bought);
    return { path: `/api/lots/${id}/purchase`, headers: { 'if-match': '*' } };
  },
  'POST /api/lots/{id}/lab-assays': async (making) => ({
    path: `/api/lots/${(await records.lot(making)).id}/lab-assays`,
    body: records.labAssay,
  }),
  'PUT /api/lots/{id}/sampling': async (making) => ({
    path: `/api/lots/${(await records.lot(making)).id}/sampling`,
    body: sampling,
  }),
  'DELETE /api/lots/{id}/sampling': async (making) => {
    const { id } = await records.lot(making);
    await making.ask('PUT', `/api/lots/${id}/sampling`, sampling);
    return { path: `/api/lots/${id}/sampling`, headers: { 'if-match': '*' } };
  },
  'POST /api/supplies/{id}/prices': async (making) => ({
    path: `/api/supplies/${(await records.supply(making)).id}/prices`,
    body: { effectiveOn: records.ON, price: '2.50', currency: 'USD' },
  }),
  'POST /api/supplies': added('/api/supplies', records.supplyFields),
  'PUT /api/supplies/{id}': changed('/api/supplies', records.supplyFields),
  'DELETE /api/supplies/{id}': removed('/api/supplies', records.supply),
  'POST /api/supply-purchases': added('/api/supply-purchases', purchase),
  'PUT /api/supply-purchases/{id}': changed('/api/supply-purchases', purchase),
  'DELETE /api/supply-purchases/{id}': removed('/api/supply-purchases', async (making) =>
    made(making, '/api/supply-purchases', await purchase(making)),
  ),
  'POST /api/supply-counts': added('/api/supply-counts', count),
  'PUT /api/supply-counts/{id}': changed('/api/supply-counts', count),
  'DELETE /api/supply-counts/{id}': removed('/api/supply-counts', async (making) =>
    made(making, '/api/supply-counts', await count(making)),
  ),
  'POST /api/expenses': added('/api/expenses', expense),
  'PUT /api/expenses/{id}': changed('/api/expenses', expense),
  'DELETE /api/expenses/{id}': removed('/api/expenses', (making) => made(making, '/api/expenses', expense())),
  'PUT /api/exchange-rates': added('/api/exchange-rates', rate),
  'DELETE /api/exchange-rates': async (making) => {
    const body = rate(making);
    await making.ask('PUT', '/api/exchange-rates', body);
    return { path: `/api/exchange-rates?currency=EUR&ratedOn=${body.ratedOn}`, headers: { 'if-match': '*' } };
  },
  'PUT /api/budgets/{id}': async (making) => {
    const { id, year } = await season(making);
    const months = [
      {
        month: `${year}-05-01`,
        feedDryT: '100',
        concentrateDryKg: '1000',
        treatedDryKg: '900',
        fixedCosts: '500',
      },
    ];
    return { path: `/api/budgets/${id}`, body: { furnaceHoursPerDay: '6', months, version: 0 } };
  },
  'PUT /api/account-codes': async (making) => {
    const { codes } = (await making.ask('GET', '/api/account-codes')) as { codes: Made[] };
    return {
      path: '/api/account-codes',
      body: { codes: codes.slice(0, 1).map((code) => ({ ...code, code: '1300' })) },
    };
  },
  'POST /api/balances': added('/api/balances', records.balanceFields),
  'PUT /api/balances/{id}': changed('/api/balances', records.balanceFields),
  'DELETE /api/balances/{id}/checks/{checkId}': async (making) => {
    const { id } = await records.balance(making);
    const readings = [{ readingG: 10.001 }, { readingG: 10.002 }];
    const check = { kind: 'repeat-weighing', checkedOn: records.ON, readings };
    await making.ask('POST', `/api/balances/${id}/checks`, check);
    const { checks } = (await listed(making, '/api/balances')).find((one) => one.id === id) as Made & {
      checks: Made[];
    };
    return { path: `/api/balances/${id}/checks/${checks[0]?.id}`, headers: { 'if-match': '*' } };
  },
  'PUT /api/cupellation': async (making) => {
    const { correction, goldLossFrac, goldLossStandardUncertaintyFrac, silverLossFrac, ...more } =
      (await making.ask('GET', '/api/cupellation')) as Made;
    const { silverLossStandardUncertaintyFrac, version } = more;
    return {
      path: '/api/cupellation',
      body: {
        correction,
        goldLossFrac,
        goldLossStandardUncertaintyFrac,
        silverLossFrac,
        silverLossStandardUncertaintyFrac,
        version,
      },
    };
  },
  'POST /api/cupellation/proofs': added('/api/cupellation/proofs', proof),
  'DELETE /api/cupellation/proofs/{id}': async (making) => {
    await making.ask('POST', '/api/cupellation/proofs', await proof(making));
    const { proofs } = (await making.ask('GET', '/api/cupellation')) as { proofs: Made[] };
    return { path: `/api/cupellation/proofs/${proofs[0]?.id}`, headers: { 'if-match': '*' } };
  },
  'PUT /api/quotations': added('/api/quotations', records.quotation),
  'DELETE /api/quotations': async (making) => {
    const body = records.quotation(making);
    await making.ask('PUT', '/api/quotations', body);
    const { metal, currency, unit, quotedOn } = body;
    return {
      path: `/api/quotations?${new URLSearchParams({ metal, currency, unit, quotedOn }).toString()}`,
      headers: { 'if-match': '*' },
    };
  },
  'POST /api/counterparties': added('/api/counterparties', (making) => ({ name: `F-${making.number()}` })),
  'PUT /api/counterparties/{id}': changed('/api/counterparties', (making) => ({
    name: `F-${making.number()}`,
  })),
  'POST /api/terms': added('/api/terms', records.termsFields),
  'POST /api/terms/{id}/versions': async (making) => {
    const fields = await records.termsFields(making);
    const { id } = await made(making, '/api/terms', fields);
    return {
      path: `/api/terms/${id}/versions`,
      body: { ...fields, validFrom: '2026-08-01', afterVersionNumber: 1 },
    };
  },
  'POST /api/decisions': added('/api/decisions', decision),
  'DELETE /api/decisions/{id}': removed('/api/decisions', async (making) =>
    made(making, '/api/decisions', await decision(making)),
  ),
  'POST /api/batches': added('/api/batches', records.batchFields),
  'PUT /api/batches/{id}': async (making) => {
    const { id, version } = await records.batch(making);
    const done = { status: 'running', startedOn: records.ON, finishedOn: null, furnaceHours: null };
    return {
      path: `/api/batches/${id}`,
      body: {
        ...done,
        labourHours: null,
        leadInKg: null,
        leadBackKg: null,
        consumption: [],
        remarks: '',
        version,
      },
    };
  },
  'PUT /api/batches/{id}/plan': async (making) => {
    const { code: _code, lotId: _lotId, ...fields } = await records.batchFields(making);
    const { id, version, termsId } = await records.batch(making);
    return { path: `/api/batches/${id}/plan`, body: { ...fields, termsId, version } };
  },
  'POST /api/batches/{id}/products': async (making) => ({
    path: `/api/batches/${(await records.batch(making)).id}/products`,
    body: records.productFields(making),
  }),
  'PUT /api/products/{id}': async (making) => {
    const { id, version } = await records.product(making);
    return { path: `/api/products/${id}`, body: { ...records.productFields(making), version } };
  },
  'DELETE /api/products/{id}': removed('/api/products', records.product),
  'POST /api/write-offs': added('/api/write-offs', writeOff),
  'DELETE /api/write-offs/{id}': removed('/api/write-offs', async (making) =>
    made(making, '/api/write-offs', await writeOff(making)),
  ),
  'POST /api/shipments': added('/api/shipments', records.shipmentFields),
  'PUT /api/shipments/{id}': changed('/api/shipments', records.shipmentFields),
  'DELETE /api/shipments/{id}': removed('/api/shipments', async (making) =>
    made(making, '/api/shipments', await records.shipmentFields(making)),
  ),
  'POST /api/statements': added('/api/statements', records.statementFields),
  'POST /api/statements/preview': added('/api/statements/preview', records.statementFields),
  'PUT /api/statements/{id}': changed('/api/statements', records.statementFields),
  'DELETE /api/statements/{id}': removed('/api/statements', records.statement),
  'POST /api/statements/{id}/issue': async (making) => {
    const { id, version } = await records.statement(making);
    return { path: `/api/statements/${id}/issue`, body: { version, issuedOn: records.ON } };
  },
  'POST /api/statements/{id}/payments': async (making) => ({
    path: `/api/statements/${(await records.issued(making)).id}/payments`,
    body: payment,
  }),
  'DELETE /api/statements/{id}/payments/{paymentId}': async (making) => {
    const { id } = await records.issued(making);
    await making.ask('POST', `/api/statements/${id}/payments`, payment);
    const [one] = await listed(making, `/api/statements/${id}/payments`);
    return { path: `/api/statements/${id}/payments/${one?.id}`, headers: { 'if-match': '*' } };
  },
  'POST /api/buyer-statements': added('/api/buyer-statements', theirs),
  'POST /api/buyer-statements/preview': async (making) => ({
    path: '/api/buyer-statements/preview',
    body: { statementId: (await records.issued(making)).id, ...records.theirLines },
  }),
  'POST /api/buyer-statements/read': async (making) => ({
    path: `/api/buyer-statements/read?statementId=${(await records.issued(making)).id}`,
    file: 'label,quantity,amount\nTreatment,,-10.00\nTotal,,100.00\n',
  }),
  'PUT /api/buyer-statements/{id}': async (making) => {
    const { statementId: _statementId, ...fields } = await theirs(making);
    const { id, version } = await made(making, '/api/buyer-statements', await theirs(making));
    return { path: `/api/buyer-statements/${id}`, body: { ...fields, version } };
  },
  'DELETE /api/buyer-statements/{id}': removed('/api/buyer-statements', async (making) =>
    made(making, '/api/buyer-statements', await theirs(making)),
  ),
  'GET /api/buyer-statements': async (making) => ({
    path: `/api/buyer-statements?statementId=${(await records.issued(making)).id}`,
  }),
  'POST /api/imports/{kind}': async (making) => {
    const { metal, quotedOn, price, currency, unit } = records.quotation(making);
    return {
      path: '/api/imports/quotations?fileName=fuzz.csv',
      file: `metal,quoted_on,price,currency,unit\n${[metal, quotedOn, price, currency, unit].join()}\n`,
    };
  },
};
for (const [path, make] of Object.entries({
  '/api/buyer-statements/{id}': async (making: Making) =>
    made(making, '/api/buyer-statements', await theirs(making)),
}))
  for (const tail of ['', '/comparison', '/comparison.pdf'])
    soundRequests[`GET ${path}${tail}`] = async (making) => ({
      path: `${path.replace('{id}', (await make(making)).id)}${tail}`,
    });
