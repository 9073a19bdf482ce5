import type { Context } from 'hono';
import type { Role } from '../schemas/account.ts';
import { Problem } from '../problem.ts';

/** Who a request comes from, as the audit and the endpoints know them. */
export interface Actor {
  /** Null on the owner's own machine while there are no accounts. */
  accountId: string | null;
  name: string;
  role: Role;
  /** Whose lots and statements a customer may see; null for everybody else. */
  counterpartyId: string | null;
  /** The session that the request belongs to. */
  sessionId: string | null;
  hasCodes: boolean;
}

/** Who acts on the owner's own machine before there are accounts. */
export const ownerOfThisMachine: Actor = {
  accountId: null,
  name: 'Owner',
  role: 'owner',
  counterpartyId: null,
  sessionId: null,
  hasCodes: false,
};

/** Who the request comes from; undefined where nobody has signed in and the endpoint is open to anyone. */
export function actorIfAny(c: Context): Actor | undefined {
  return c.get('actor') as Actor | undefined;
}

/** Who the request comes from. */
export function actorOf(c: Context): Actor {
  const actor = actorIfAny(c);
  if (actor === undefined) throw new Problem('not-signed-in', 'Sign in to your account first.');
  return actor;
}

/** Under whose records alone a request may look; undefined for everybody of the mill. */
export function ownRecordsOf(c: Context): string | undefined {
  return actorOf(c).counterpartyId ?? undefined;
}
