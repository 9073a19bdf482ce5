import { Link } from '@tanstack/react-router';
import { startingPoints } from './starting-points.ts';
import { IfOpen } from '../../parts/if-open.tsx';

/** Common recipes to begin with; each opens a form that is filled in. */
export function StartingPoints() {
  return (
    <>
      <p>Begin with a common recipe, to be changed to your own, or fill in the fields yourself:</p>
      <ul>
        {startingPoints.map(({ key, name, suits }) => (
          <li key={key}>
            <IfOpen change="POST /treatments">
              <Link to="/treatments/new" search={{ from: key }}>
                {name}
              </Link>
            </IfOpen>
            . {suits}
          </li>
        ))}
      </ul>
      <p>
        Or have <Link to="/treatments/advice">a recipe proposed</Link> from the minerals of a lot.
      </p>
    </>
  );
}
