/** The pages in the order of the work, in groups that belong together. */
export const navigation = [
  [{ to: '/', label: 'Today' }],
  [
    { to: '/lots', label: 'Lots' },
    { to: '/test-smelts', label: 'Test smelts' },
  ],
  [
    { to: '/prices', label: 'Prices & costs' },
    { to: '/treatments', label: 'Treatments' },
    { to: '/terms', label: 'Buyers’ terms' },
    { to: '/supply-stock', label: 'Supplies in stock' },
    { to: '/decide', label: 'Decide' },
  ],
  [
    { to: '/batches', label: 'Batches' },
    { to: '/settlements', label: 'Settlements' },
    { to: '/season', label: 'Season' },
  ],
    { to: '/expenses', label: 'Expenses' },
    { to: '/budget', label: 'Budget' },
  [
    { to: '/import', label: 'Import' },
    { to: '/settings', label: 'Settings' },
  ],
] as const;
