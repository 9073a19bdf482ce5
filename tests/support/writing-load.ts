/** What the program acknowledged: the ids of lots, and of test smelts with how many reagents each was given. */
export interface Acknowledged {
  lots: Map<string, number>;
  smelts: Map<string, number>;
}

export const nothingYet = (): Acknowledged => ({ lots: new Map(), smelts: new Map() });

interface Ids {
  seasonId: string;
  lotId: string;
}

const post = (url: string, path: string, body: unknown): Promise<Response> =>
  fetch(`${url}/api${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': `"${crypto.randomUUID()}"` },
    body: JSON.stringify(body),
  });

/** The season of a new mill, and a lot to make test smelts of. */
export async function beginMill(url: string): Promise<Ids> {
  const seasons = (await (await fetch(`${url}/api/seasons`)).json()) as { id: string }[];
  const seasonId = seasons[0]?.id ?? '';
  const made = await post(url, '/lots', lotEntry(seasonId));
  if (made.status !== 201) throw new Error(`The first lot was refused: ${await made.text()}`);
  return { seasonId, lotId: ((await made.json()) as { id: string }).id };
}

/**
 * Enters lots and test smelts, several at a time, until the program does not answer any more or `until` is aborted;
 * each test smelt is several rows: a trial, a balance, the smelt and its reagents with their supplies.
 */
export async function writeUntilGone(
  url: string,
  { seasonId, lotId }: Ids,
  acknowledged: Acknowledged,
  until: AbortSignal,
): Promise<{ refusals: number[] }> {
  const refusals: number[] = [];
  const writer = async (number: number): Promise<void> => {
    for (let count = 0; !until.aborted; count += 1) {
      const isLot = (number + count) % 2 === 0;
      try {
        const answer = await post(
          url,
          isLot ? '/lots' : '/test-smelts',
          isLot ? lotEntry(seasonId) : smeltEntry(lotId),
        );
        if (answer.status !== 201) {
          refusals.push(answer.status);
          await answer.arrayBuffer();
          continue;
        }
        const { id } = (await answer.json()) as { id: string };
        if (isLot) acknowledged.lots.set(id, MINERALS);
        else acknowledged.smelts.set(id, REAGENTS);
      } catch (error) {
        // Killed while it was asked: it acknowledged nothing.
        if (!(error instanceof TypeError || error instanceof SyntaxError)) throw error;
        return;
      }
    }
  };
  await Promise.all(Array.from({ length: 4 }, (_, number) => writer(number)));
  return { refusals };
}

const MINERALS = 2;
const REAGENTS = 3;

function lotEntry(seasonId: string): object {
  return {
    seasonId,
    code: `K-${crypto.randomUUID().slice(0, 13)}`,
    madeOn: '2026-05-20',
    wetMassKg: '250',
    moistureFrac: '0',
    minerals: [
      { mineral: 'pyrite', massFrac: '0.5' },
      { mineral: 'quartz', massFrac: '0.3' },
    ],
  };
}

function smeltEntry(lotId: string): object {
  const named = crypto.randomUUID().slice(0, 13);
  return {
    newTrial: { lotId, name: `Raw ${named}` },
    sample: '1',
    smeltedOn: '2026-06-01',
    sampleMassG: 100,
    roasted: false,
    newSampleBalance: { name: `Scale ${named}`, readabilityG: '0.1', repeatabilityG: '0.1' },
    reagents: Array.from({ length: REAGENTS }, (_, place) => ({
      newSupply: { name: `Soda ${place} ${named}`, kind: 'reagent', unit: 'kg' },
      massG: 30 + place,
    })),
  };
}
