/**
 * The structure tree of a tagged PDF (ISO 32000-1:2008, 14.7 and 14.8): what
 * is a heading, a paragraph, a table cell, a figure with its words.
 */
export type Tag = PDFKit.PDFStructureElement;

export type TagName =
  | 'Document'
  | 'H1'
  | 'H2'
  | 'P'
  | 'Div'
  | 'Figure'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Table'
  | 'Caption'
  | 'THead'
  | 'TBody'
  | 'TR'
  | 'TH'
  | 'TD';

/** Attributes that pdfkit's published types do not hold. */
interface WithAttributes {
  dictionary: { data: { A?: Record<string, unknown> } };
}

export interface TagOptions {
  /** Words for a figure. */
  alt?: string;
  /** Left, top, right, bottom of a figure on its page. */
  boundsPt?: [number, number, number, number];
  /** Of a header cell: what it heads. */
  scope?: 'Column' | 'Row';
  columnSpan?: number;
}

/** Opens a tag under `parent`; what it holds is added to it later. */
export function openTag(doc: PDFKit.PDFDocument, parent: Tag | null, name: TagName): Tag {
  const tag = doc.struct(name);
  if (parent === null) doc.addStructure(tag);
  else parent.add(tag);
  return tag;
}

/** Paints under a tag of its own: everything that `paint` draws on the present page is its content. */
export function paintTagged(
  doc: PDFKit.PDFDocument,
  parent: Tag,
  name: TagName,
  paint: (() => void) | null,
  options: TagOptions = {},
): void {
  const { alt, boundsPt, scope, columnSpan } = options;
  const layout = boundsPt === undefined ? {} : { bbox: boundsPt, placement: 'Block' };
  const tag = doc.struct(name, { ...(alt === undefined ? {} : { alt }), ...layout });
  if (scope !== undefined || columnSpan !== undefined) {
    (tag as unknown as WithAttributes).dictionary.data.A = {
      O: 'Table',
      ...(scope === undefined ? {} : { Scope: scope }),
      ...(columnSpan === undefined ? {} : { ColSpan: columnSpan }),
    };
  }
  parent.add(tag);
  if (paint !== null) tag.add(paint);
  tag.end();
}

/** Paints what belongs to the page and not to the text: rules, running heads, repeated table heads. */
export function paintArtifact(
  doc: PDFKit.PDFDocument,
  type: 'Pagination' | 'Layout',
  paint: () => void,
): void {
  doc.markContent('Artifact', { type });
  paint();
  doc.endMarkedContent();
}
