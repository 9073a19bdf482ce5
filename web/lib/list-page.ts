/** Asks for the page behind a row; '' is the first page. */
export const behind = (after: string): { after?: string } => (after === '' ? {} : { after });

/** Whether a text can be the id of a record. */
export const isRecordId = (text: string): boolean =>
  /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(text);
