/** What pdfkit writes through; not in its published types. */
interface Writes {
  _write: (data: string | Uint8Array) => void;
  _offset: number;
  push: (chunk: Uint8Array | null) => boolean;
  page: { content: WritesContent };
}

interface WritesContent {
  write: (line: string) => void;
  finalize: () => void;
  buffer: Uint8Array[];
}

/**
 * Gathers what pdfkit writes of a document, and hands it on as one piece at its end: pdfkit makes a small array of bytes
 * of every line, thousands of them a document, and clearing them away took longer than making them. The bytes are the
 * same.
 */
export function writeAtOnce(doc: PDFKit.PDFDocument): void {
  const writes = doc as unknown as Writes;
  const push = writes.push.bind(doc);
  const pieces: Uint8Array[] = [];
  let text = '';
  const gather = (): void => {
    if (text !== '') pieces.push(Buffer.from(text, 'latin1'));
    text = '';
  };
  writes._write = (data) => {
    if (typeof data === 'string') {
      text += `${data}\n`;
      writes._offset += data.length + 1;
    } else {
      gather();
      pieces.push(data);
      writes._offset += data.length;
    }
  };
  writes.push = (chunk) => {
    if (chunk !== null) throw new Error('A document is written through _write alone.');
    gather();
    push(Buffer.concat(pieces));
    return push(null);
  };
}

/** The same for what is painted on the page that was just added: its lines become bytes once, when it is finished. */
export function paintAtOnce(doc: PDFKit.PDFDocument): void {
  const { content } = (doc as unknown as Writes).page;
  const finalize = content.finalize.bind(content);
  let text = '';
  content.write = (line) => {
    text += `${line}\n`;
  };
  content.finalize = () => {
    content.buffer.push(Buffer.from(text, 'latin1'));
    finalize();
  };
}
