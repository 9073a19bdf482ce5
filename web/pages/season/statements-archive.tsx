import type { Season } from '../../../api/schemas/mill.ts';
import { ArchiveDownload } from './archive-download.tsx';

/** All issued statements of a season as PDFs in one archive. */
export function StatementsArchive(props: { season: Season; count: number }) {
  const { season, count } = props;
  if (count === 0) return null;
  return (
    <ArchiveDownload
      address={`/api/seasons/${season.id}/statements.zip`}
      label={`${count === 1 ? 'The statement' : `All ${count} statements`} as PDF (ZIP)`}
      busyLabel={count === 1 ? 'Making the PDF' : `Making the PDFs of ${count} statements`}
      savedWords={count === 1 ? 'The statement was' : `${count} statements were`}
    />
  );
}
