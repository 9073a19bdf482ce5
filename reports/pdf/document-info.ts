/** What pdfkit calls while it ends a document, and the words that it writes then; not in its published types. */
interface EndsMetadata {
  info: Record<string, unknown>;
  endMetadata(): void;
}

/**
 * pdfkit puts the document's title and subject into its XML metadata as they
 * are; an ampersand in a company's name would make that XML unreadable. The
 * plain words are in the document already when the XML is written, so they are
 * escaped for the XML alone.
 */
export function escapeXmlMetadata(doc: PDFKit.PDFDocument): void {
  const ending = doc as unknown as EndsMetadata;
  const writeMetadata = ending.endMetadata.bind(doc);
  ending.endMetadata = () => {
    for (const [key, value] of Object.entries(ending.info)) {
      if (typeof value === 'string') ending.info[key] = escapeXml(value);
    }
    writeMetadata();
  };
}

function escapeXml(text: string): string {
  return text
    .replaceAll(/\p{Cc}/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}
