import type { Scene } from '../charts/scene.ts';

/**
 * A report as data. The page, the PDF and the table download are all painted
 * from one model, so a figure cannot differ between them. All figures are
 * strings, formatted once by whoever builds the model.
 */
export interface Report {
  title: string;
  /** One line under the title: number, parties, period. */
  subtitle: string;
  /** Printed on every page, for example "Statement S-0007, final". */
  runningHead: string;
  /** Set on every invented document: printed on every page. */
  demoNotice: string | null;
  /** BCP 47. */
  language: string;
  blocks: Block[];
}

export type Block =
  | { kind: 'heading'; text: string }
  /** The sentence that a reader in a hurry needs; set larger than a paragraph. */
  | { kind: 'lead'; text: string }
  | { kind: 'paragraph'; text: string }
  | { kind: 'facts'; facts: { label: string; value: string }[] }
  | TableBlock
  /** `narrow`: the same drawn for a phone. */
  | { kind: 'chart'; scene: Scene; narrow?: Scene }
  /** A caution or a reservation, boxed and labelled with a word, not by colour alone. */
  | {
      kind: 'notice';
      level: 'note' | 'warning' | 'caution';
      text: string;
      /** What is said is only so until more is worked out: whoever asks again gets more. */
      passing?: true;
    }
  | { kind: 'signatures'; parties: string[] }
  /** Work in its order, numbered, with a box to tick on paper. */
  | { kind: 'steps'; steps: string[] }
  /** On paper a new page begins here, and this and the following ones are held so. */
  | { kind: 'page'; orientation: 'portrait' | 'landscape' };

export interface TableBlock {
  kind: 'table';
  caption: string;
  columns: {
    key: string;
    label: string;
    align: 'start' | 'end';
    /** Relative width on paper. */ weight: number;
  }[];
  rows: TableRow[];
  /** Empty cells are boxes to write in: ruled all round, and high enough for a pencil. */
  toFillIn?: true;
}

export interface TableRow {
  /** total: ruled above and bold, never parted from the row before it; section: a heading row across the table. */
  style: 'plain' | 'section' | 'subtotal' | 'total';
  cells: Record<string, string>;
  /** Small print under the row, across the table: the line's working. */
  detail?: string;
}

/** Whether a report says that more of it is still being worked out. */
export const isBeingWorkedOut = ({ blocks }: Report): boolean =>
  blocks.some((block) => block.kind === 'notice' && block.passing === true);
