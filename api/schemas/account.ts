import { z } from 'zod';
import { id, name, text, version } from './fields.ts';

/** What somebody is to the mill, which decides what they may see and change. */
export const roles = ['owner', 'operator', 'accountant', 'customer'] as const;
export const role = z.enum(roles);
export type Role = z.infer<typeof role>;

export const accountName = name(60);

/** Checked for what is in it by api/accounts/password-rules.ts; the limit here only keeps the work bounded. */
export const password = z.string().min(1, 'must not be empty').max(256, 'must be at most 256 characters');
const typedPassword = z.string().max(256, 'must be at most 256 characters');
const code = z.string().trim().max(40);

const customerHasCounterparty = {
  check: ({ role: is, counterpartyId }: { role: Role; counterpartyId: string | null }): boolean =>
    (is === 'customer') === (counterpartyId !== null),
  says: {
    path: ['counterpartyId'],
    error: 'must name the customer for an account of a customer, and nobody for another',
  },
};
const accountFields = z.object({
  name: accountName,
  role,
  counterpartyId: id.nullable().default(null),
});
export const newAccount = accountFields.refine(customerHasCounterparty.check, customerHasCounterparty.says);
export const accountChange = accountFields
  .extend({ disabled: z.boolean(), version })
  .refine(customerHasCounterparty.check, customerHasCounterparty.says);

export const account = z.object({
  id,
  version,
  name: accountName,
  role,
  counterpartyId: id.nullable(),
  disabled: z.boolean(),
  /** Without a password nobody has come in with this account yet. */
  hasPassword: z.boolean(),
  /** Whether a code from a telephone is asked for beside the password. */
  hasCodes: z.boolean(),
  /** The last day on which the account was used; null for never. */
  lastSeenAt: z.string().nullable(),
  openSessions: z.int(),
});
export type Account = z.infer<typeof account>;

export const accountWithLink = z.object({
  account,
  /** Path and fragment of the page where the password is chosen; shown this once. */
  setupPath: z.string(),
  expiresAt: z.string(),
});

export const accountSession = z.object({
  id,
  startedAt: z.string(),
  lastSeenAt: z.string(),
  expiresAt: z.string(),
  device: z.string(),
  address: z.string(),
  isThisOne: z.boolean(),
});
export type AccountSession = z.infer<typeof accountSession>;

export const signIn = z.object({ name: typedPassword, password: typedPassword, code: code.default('') });
export const setUp = z.object({ token: z.string().max(100), password });
export const passwordChange = z.object({ current: typedPassword, password, code: code.default('') });
export const confirmPassword = z.object({ password: typedPassword });
export const confirmCode = z.object({ code });

/** Who is asking, and whether there are accounts at all. */
export const session = z.object({
  actor: z.object({ accountId: id.nullable(), name: z.string(), role, hasCodes: z.boolean() }).nullable(),
  /** False on the owner's own machine while there are no accounts: nobody has to sign in. */
  accountsInUse: z.boolean(),
  /** The changes that are closed to whoever it is, such as `PUT /mill`: pages offer none of them. */
  closed: z.array(z.string()),
});
export type Session = z.infer<typeof session>;

/** Files that a link without an account can be made for. */
export const downloadKinds = ['accountant-package', 'accountant-csv', 'statements-zip'] as const;
export const downloadKind = z.enum(downloadKinds);
export type DownloadKind = z.infer<typeof downloadKind>;
export const newDownloadLink = z.object({
  what: downloadKind,
  seasonId: id,
  /** For whom or what it was made. */
  remarks: text(200).default(''),
  days: z.int().min(1).max(90),
});
export const downloadLink = z.object({
  id,
  what: z.string(),
  seasonId: id,
  seasonName: z.string(),
  remarks: z.string(),
  madeBy: z.string(),
  madeAt: z.string(),
  expiresAt: z.string(),
  revokedAt: z.string().nullable(),
  lastUsedAt: z.string().nullable(),
  uses: z.int(),
});
export type DownloadLink = z.infer<typeof downloadLink>;
export const downloadLinkMade = z.object({ link: downloadLink, path: z.string() });
