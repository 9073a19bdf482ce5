import type { FontName } from './fonts.ts';
import { INK, MUTED, OXIDE } from './palette.ts';

/** A way of setting text; sizes in points, `leading` from baseline to baseline. */
export interface TypeStyle {
  font: FontName;
  size: number;
  leading: number;
  ink: string;
}

export const TITLE: TypeStyle = { font: 'heading', size: 21, leading: 25, ink: INK };
export const SUBTITLE: TypeStyle = { font: 'regular', size: 10.5, leading: 14, ink: MUTED };
export const HEADING: TypeStyle = { font: 'heading', size: 12.5, leading: 16, ink: INK };
export const LEAD: TypeStyle = { font: 'regular', size: 12.5, leading: 17, ink: INK };
export const BODY: TypeStyle = { font: 'regular', size: 9.5, leading: 13, ink: INK };
export const BODY_BOLD: TypeStyle = { ...BODY, font: 'bold' };
export const LABEL: TypeStyle = { font: 'regular', size: 7.8, leading: 10, ink: MUTED };
export const CAPTION: TypeStyle = { font: 'bold', size: 9.5, leading: 13, ink: INK };
export const CELL: TypeStyle = { font: 'regular', size: 9, leading: 11.6, ink: INK };
export const CELL_BOLD: TypeStyle = { ...CELL, font: 'bold' };
export const COLUMN_HEAD: TypeStyle = { font: 'bold', size: 7.8, leading: 9.6, ink: MUTED };
export const DETAIL: TypeStyle = { font: 'regular', size: 7.8, leading: 10, ink: MUTED };
/** What is only about the page: that a table goes on, that it is empty. */
export const ASIDE: TypeStyle = { ...DETAIL, font: 'italic' };
export const SECTION: TypeStyle = { font: 'heading', size: 9.6, leading: 12.4, ink: INK };
export const LEVEL_WORD: TypeStyle = { font: 'bold', size: 8.6, leading: 13, ink: OXIDE };
export const RUNNING: TypeStyle = { font: 'regular', size: 7.8, leading: 10, ink: MUTED };
export const RUNNING_BOLD: TypeStyle = { ...RUNNING, font: 'bold', ink: INK };
