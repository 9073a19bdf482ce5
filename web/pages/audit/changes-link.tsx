import { Link } from '@tanstack/react-router';

/** To what was changed of a record, by whom and when. */
export function ChangesLink(props: { record: string }) {
  return (
    <p>
      <Link to="/changes" search={{ record: props.record }}>
        What was changed here
      </Link>
    </p>
  );
}
