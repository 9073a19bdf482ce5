import type { Role } from '../api/schemas/account.ts';

/** The pages in the order of the work, in groups that belong together. */
const navigation = [
  [{ to: '/', label: 'Today' }],
  [
    { to: '/days', label: 'Daily log' },
    { to: '/lots', label: 'Lots' },
    { to: '/test-smelts', label: 'Test smelts' },
  ],
  [
    { to: '/prices', label: 'Prices & costs' },
    { to: '/supply-stock', label: 'Supplies in stock' },
    { to: '/treatments', label: 'Treatments' },
    { to: '/terms', label: 'Buyers’ terms' },
    { to: '/decide', label: 'Decide' },
  ],
  [
    { to: '/batches', label: 'Batches' },
    { to: '/stock', label: 'Stock' },
    { to: '/shipments', label: 'Shipments' },
    { to: '/settlements', label: 'Settlements' },
    { to: '/expenses', label: 'Expenses' },
    { to: '/budget', label: 'Budget' },
    { to: '/months', label: 'Months' },
    { to: '/season', label: 'Season' },
  ],
  [
    { to: '/import', label: 'Import' },
    { to: '/settings', label: 'Settings' },
    { to: '/accounts', label: 'Accounts' },
  ],
] as const;

type Entry = (typeof navigation)[number][number];

/** What of the contents an account has no use for, because nothing on the page is open to it. */
const closedTo: Record<Role, readonly Entry['to'][]> = {
  owner: [],
  operator: ['/import', '/accounts', '/expenses', '/budget'],
  accountant: ['/import', '/settings', '/accounts'],
  customer: [],
};

/** The contents as far as they are open to a role; nothing where nobody has signed in. */
export function navigationFor(
  role: Role | undefined,
): readonly (readonly { to: Entry['to']; label: string }[])[] {
  if (role === undefined) return [];
  if (role === 'customer') return [[{ to: '/', label: 'Your lots and statements' }]];
  return navigation
    .map((group) => group.filter(({ to }) => !closedTo[role].includes(to)))
    .filter((group) => group.length > 0);
}
