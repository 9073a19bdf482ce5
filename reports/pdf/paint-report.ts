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
import { tablePieces } from './paint-table.ts';
import { headingPieces, leadPieces, noticePieces, paragraphPieces, titlePieces } from './paint-text.ts';
import { cleaned, type Paper } from './paper.ts';
import { openTag } from './tags.ts';
import { RUNNING_BOLD } from './type-styles.ts';

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
  const [widthPt, heightPt] = PAGE_SIZES_PT[args.page];
  const doc = openDocument(report, [widthPt, heightPt], createdAt);
  const bytes = collect(doc);
  registerFonts(doc, args.fontsDir ?? findFontsDir());
  doc.addPage();
  const paper: Paper = {
    doc,
    root: openTag(doc, null, 'Document'),
    leftPt: SIDE_PT,
    widthPt: widthPt - 2 * SIDE_PT,
    bodyHeightPt: 0,
    missingSigns: new Set(),
  };
  const noticeLines = noticeLinesOf(paper, report.demoNotice);
  const bounds = bodyBoundsPt(heightPt, noticeLines.length);
  paper.bodyHeightPt = bounds.bottomPt - bounds.topPt;
  flow({
    pieces: reportPieces(paper, report),
    firstTopPt: bounds.topPt + 6,
    ...bounds,
    newPage: () => doc.addPage(),
  });
  const madeOn = `${createdAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`;
  const { runningHead, title } = report;
  const { count } = doc.bufferedPageRange();
  for (let index = 0; index < count; index += 1) {
    doc.switchToPage(index);
    paintFrame(paper, {
      heightPt,
      runningHead,
      title,
      noticeLines,
      madeOn,
      page: index + 1,
      pageCount: count,
    });
  }
  doc.end();
  return bytes;
}

function openDocument(report: Report, size: [number, number], createdAt: Date): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    size,
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

function reportPieces(paper: Paper, report: Report): Piece[] {
  const pieces = [
    ...titlePieces(paper, report.title, report.subtitle),
    ...report.blocks.flatMap((block, index) => {
      const pieces = blockPieces(paper, block);
      return belongsTo(block, report.blocks[index + 1])
        ? pieces.map((piece) => ({ ...piece, keepWithNext: true }))
        : pieces;
    }),
  ];
  cleaned(paper, RUNNING_BOLD.font, report.runningHead);
  if (paper.missingSigns.size === 0) return pieces;
  const signs = [...paper.missingSigns].map(
    (sign) => `U+${sign.codePointAt(0)?.toString(16).toUpperCase().padStart(4, '0')}`,
  );
  const text = `The fonts of this document lack ${signs.length === 1 ? 'a sign' : 'signs'} that it uses (Unicode ${signs.join(', ')}); a box stands in the place of each.`;
  return [...pieces, ...noticePieces(paper, 'note', text)];
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
  }
}
