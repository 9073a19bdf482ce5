/** Printed on every page of an invented document. */
export const DEMO_NOTICE =
  'Invented example: the companies, people and figures in this document are made up.';
