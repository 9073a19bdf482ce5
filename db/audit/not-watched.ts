/** The tables whose changes the audit does not write down, each with its reason. */
export const notWatched: Record<string, string> = {
  audit_entry: 'is the audit itself and takes no change',
  audit_head: 'is the end of the audit and only goes forward',
  kysely_migration: 'is the list of migrations, kept by the migrator',
  kysely_migration_lock: 'lets one program at a time migrate, and says nothing of the books',
  idempotency: 'holds answers for seven days, each to a change that the audit has',
  account_session: 'holds what opens a door',
  account_setup: 'holds what opens a door',
  import_row: 'holds rows of a file that is still being read, and is emptied before the books have them',
  kept_by: 'names the program that worked what is kept, and says nothing of the books',
  lot_grade: 'is worked from records that are watched, and made anew',
  lot_recovery: 'is worked from records that are watched, and made anew',
  batch_forecast: 'repeats what the batch itself holds, kept the same by the database',
  month_book: 'is worked from records that are watched, and made anew',
  month_place: 'is worked from records that are watched, and made anew',
  month_state: 'is worked from records that are watched, and made anew',
  sign_in_limit: 'counts tries and is forgotten within the hour',
};
