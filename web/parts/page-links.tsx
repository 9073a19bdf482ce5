import { Link } from '@tanstack/react-router';

/** Ways from one page of a list to the others; the place in the list is in the address, so that going back works. */
export function PageLinks(props: {
  /** What the list holds: "lots". */
  of: string;
  /** Where this page begins; '' for the first. */
  after: string;
  next: string | null;
  /** Names of the list's own places in the address; where a page has several lists. */
  name?: string;
}) {
  const { of, after, next, name = 'after' } = props;
  if (after === '' && next === null) return null;
  return (
    <nav aria-label={`More ${of}`} className="month-links">
      {after === '' ? null : (
        <Link to="." search={(search: object) => ({ ...search, [name]: undefined })}>
          Newest {of}
        </Link>
      )}
      {next === null ? null : (
        <Link to="." search={(search: object) => ({ ...search, [name]: next })}>
          Earlier {of}
        </Link>
      )}
    </nav>
  );
}
