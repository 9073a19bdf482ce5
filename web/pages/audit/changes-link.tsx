import { Link } from '@tanstack/react-router';
import { useActor } from '../../lib/session.ts';

/** To what was changed of a record, by whom and when, for those who may see it. */
export function ChangesLink(props: { record: string }) {
  const { role } = useActor();
  if (role !== 'owner' && role !== 'accountant') return null;
  return (
    <p>
      <Link to="/changes" search={{ record: props.record }}>
        What was changed here
      </Link>
    </p>
  );
}
