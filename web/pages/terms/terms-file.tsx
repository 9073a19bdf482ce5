import { useId, useState } from 'react';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { termsSchema } from '../../../api/schemas/terms.ts';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';

const largestFileBytes = 1_000_000;

/** The contract as a JSON file, for those who keep or read terms elsewhere. */
export function DownloadTerms(props: { record: TermsRecord }) {
  const { record } = props;
  const fileName = `${record.name.replaceAll(/[^\p{L}\p{N}]+/gu, '-')}-v${record.versionNumber}.json`;
  function download(): void {
    const file = new Blob([`${JSON.stringify(record.body, null, 2)}\n`], { type: 'application/json' });
    const url = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = url;
    link.download = fileName;
    link.click();
    URL.revokeObjectURL(url);
  }
  return (
    <button type="button" onClick={download}>
      Download as JSON
    </button>
  );
}

/** What a file says as terms, or why it does not. */
function readTerms(text: string): { terms: Terms } | { faults: string[] } {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { faults: ['It is not a JSON file.'] };
  }
  const read = termsSchema.safeParse(json);
  if (read.success) return { terms: read.data };
  return {
    faults: read.error.issues.map(({ path, message }) => `${path.join(' › ') || 'The file'}: ${message}`),
  };
}

/** Reads a contract from a JSON file into the editor, where it is checked before it is saved. */
export function TermsUpload(props: { onRead: (terms: Terms) => void }) {
  const { onRead } = props;
  const id = useId();
  const [faults, setFaults] = useState<string[]>([]);
  const [readName, setReadName] = useState<string | null>(null);

  async function read(file: File): Promise<void> {
    setReadName(null);
    if (file.size > largestFileBytes) {
      setFaults([`${file.name} is larger than a contract can be.`]);
      return;
    }
    const found = readTerms(await file.text());
    if ('faults' in found) {
      setFaults(found.faults);
      return;
    }
    setFaults([]);
    setReadName(file.name);
    onRead(found.terms);
  }

  return (
    <details className="folded">
      <summary>Read the contract from a JSON file</summary>
      <p>
        It takes the place of everything below and is not saved until you save it.{' '}
        <a href="/api/terms/schema.json">The form of such a file</a> is a JSON Schema.
      </p>
      <div className="field">
        <label htmlFor={id}>File</label>
        <input
          id={id}
          type="file"
          accept=".json,application/json"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) void read(file);
          }}
        />
      </div>
      <div role="status">
        {readName === null ? null : <p>{readName} has been read. Look it over and save it.</p>}
        {faults.length === 0 ? null : (
          <>
            <p>This file is not a contract that can be read:</p>
            <ul>
              {faults.slice(0, 20).map((fault) => (
                <li key={fault}>{fault}</li>
              ))}
            </ul>
          </>
        )}
      </div>
    </details>
  );
}
