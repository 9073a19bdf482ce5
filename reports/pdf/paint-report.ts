import PDFDocument from 'pdfkit';
import type { Block, Report } from '../model/report.ts';
import { escapeXmlMetadata } from './document-info.ts';
import { flow, type Piece } from './flow.ts';
import { findFontsDir, registerFonts } from './fonts.ts';
import {
  bodyBoundsPt,
  noticeLinesOf,
  PAGE_SIZES_PT,
  paintFrame,
  SIDE_PT,
  type PageSize,
} from './page-frame.ts';
import { factsPieces } from './paint-facts.ts';
import { scenePieces } from './paint-scene.ts';
import { signaturePieces } from './paint-signatures.ts';
import { stepPieces } from './paint-steps.ts';
import { tablePieces } from './paint-table.ts';
import { headingPieces, leadPieces, noticePieces, paragraphPieces, titlePieces } from './paint-text.ts';
import { cleaned, type Paper } from './paper.ts';
import { openTag } from './tags.ts';
import { RUNNING_BOLD } from './type-styles.ts';
import { paintAtOnce, writeAtOnce } from './written-at-once.ts';

/**
 * Paints a report as a tagged PDF 1.7 with its fonts embedded. The same report,
 * page size and time give the same bytes.
 *
 * `fontsDir` holds the fonts of reports/fonts; without it the folder is looked
 * for above this file and above the working directory. A sign that the fonts
 * cannot draw is printed as a box and named in a note at the end.
 */
export async function paintReport(args: {
  report: Report;
  page: PageSize;
  createdAt: Date;
  fontsDir?: string;
}): Promise<Buffer> {
  const { report, createdAt } = args;
  const doc = openDocument(report, createdAt);
  const bytes = collect(doc);
  writeAtOnce(doc);
  registerFonts(doc, args.fontsDir ?? findFontsDir());
  const root = openTag(doc, null, 'Document');
  const missingSigns = new Set<string>();
  const sections = sectionsOf(report.blocks);
  const pages: Sheet[] = [];
  sections.forEach((section, index) => {
    const sheet = sheetOf({ doc, root, missingSigns }, sizeOf(args.page, section.orientation), report);
    const newPage = (): void => {
      doc.addPage({ size: [sheet.widthPt, sheet.heightPt], margin: 0 });
      paintAtOnce(doc);
      pages.push(sheet);
    };
    newPage();
    flow({
      pieces: [
        ...(index === 0 ? titlePieces(sheet.paper, report.title, report.subtitle) : []),
        ...sectionPieces(sheet.paper, section.blocks),
        ...(index === sections.length - 1 ? missingSignPieces(sheet.paper, report) : []),
      ],
      firstTopPt: sheet.topPt + 6,
      topPt: sheet.topPt,
      bottomPt: sheet.bottomPt,
      newPage,
    });
  });
  const madeOn = `${createdAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`;
  const { runningHead, title } = report;
  pages.forEach(({ paper, heightPt, noticeLines }, index) => {
    doc.switchToPage(index);
    const place = { page: index + 1, pageCount: pages.length };
    paintFrame(paper, { heightPt, runningHead, title, noticeLines, madeOn, ...place });
  });
  doc.end();
  return bytes;
}

/** A kind of page in a document: its measures, and the paper that is painted on. */
interface Sheet {
  paper: Paper;
  widthPt: number;
  heightPt: number;
  topPt: number;
  bottomPt: number;
  noticeLines: readonly string[];
}

function sheetOf(
  shared: Pick<Paper, 'doc' | 'root' | 'missingSigns'>,
  [widthPt, heightPt]: [number, number],
  { demoNotice }: Report,
): Sheet {
  const paper: Paper = { ...shared, leftPt: SIDE_PT, widthPt: widthPt - 2 * SIDE_PT, bodyHeightPt: 0 };
  const noticeLines = noticeLinesOf(paper, demoNotice);
  const { topPt, bottomPt } = bodyBoundsPt(heightPt, noticeLines.length);
  paper.bodyHeightPt = bottomPt - topPt;
  return { paper, widthPt, heightPt, topPt, bottomPt, noticeLines };
}

type Orientation = Extract<Block, { kind: 'page' }>['orientation'];

function sizeOf(page: PageSize, orientation: Orientation): [number, number] {
  const [widthPt, heightPt] = PAGE_SIZES_PT[page];
  return orientation === 'portrait' ? [widthPt, heightPt] : [heightPt, widthPt];
}

/** Blocks between one change of page and the next. */
function sectionsOf(blocks: Block[]): { orientation: Orientation; blocks: Block[] }[] {
  const sections: { orientation: Orientation; blocks: Block[] }[] = [{ orientation: 'portrait', blocks: [] }];
  for (const block of blocks) {
    if (block.kind === 'page') sections.push({ orientation: block.orientation, blocks: [] });
    else sections.at(-1)?.blocks.push(block);
  }
  return sections;
}

function openDocument(report: Report, createdAt: Date): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    margin: 0,
    pdfVersion: '1.7',
    tagged: true,
    lang: report.language,
    displayTitle: true,
    bufferPages: true,
    autoFirstPage: false,
    // No built-in font: every font that is used is embedded.
    font: '',
    info: {
      Title: report.runningHead,
      Subject: `${report.title}: ${report.subtitle}`,
      Creator: 'Poursheet',
      Producer: 'Poursheet',
      CreationDate: createdAt,
    },
  });
  escapeXmlMetadata(doc);
  return doc;
}

function collect(doc: PDFKit.PDFDocument): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
  });
}

function sectionPieces(paper: Paper, blocks: Block[]): Piece[] {
  return blocks.flatMap((block, index) => {
    const pieces = blockPieces(paper, block);
    return belongsTo(block, blocks[index + 1])
      ? pieces.map((piece) => ({ ...piece, keepWithNext: true }))
      : pieces;
  });
}

/** What is said at the end where the fonts lack signs; to be asked for once all else is laid out. */
function missingSignPieces(paper: Paper, report: Report): Piece[] {
  cleaned(paper, RUNNING_BOLD.font, report.runningHead);
  if (paper.missingSigns.size === 0) return [];
  const signs = [...paper.missingSigns].map(
    (sign) => `U+${sign.codePointAt(0)?.toString(16).toUpperCase().padStart(4, '0')}`,
  );
  const text = `The fonts of this document lack ${signs.length === 1 ? 'a sign' : 'signs'} that it uses (Unicode ${signs.join(', ')}); a box stands in the place of each.`;
  return noticePieces(paper, 'note', text);
}

/** A paragraph is not parted from the table or chart that it leads to, nor from the place where it is signed. */
function belongsTo(block: Block, next: Block | undefined): boolean {
  if (block.kind !== 'paragraph' || next === undefined) return false;
  return next.kind === 'table' || next.kind === 'chart' || next.kind === 'signatures';
}

function blockPieces(paper: Paper, block: Block): Piece[] {
  switch (block.kind) {
    case 'heading':
      return headingPieces(paper, block.text);
    case 'lead':
      return leadPieces(paper, block.text);
    case 'paragraph':
      return paragraphPieces(paper, block.text);
    case 'facts':
      return factsPieces(paper, block.facts);
    case 'table':
      return tablePieces(paper, block);
    case 'chart':
      return scenePieces(paper, block.scene);
    case 'notice':
      return noticePieces(paper, block.level, block.text);
    case 'signatures':
      return signaturePieces(paper, block.parties);
    case 'steps':
      return stepPieces(paper, block.steps);
    case 'page':
      return [];
  }
}
