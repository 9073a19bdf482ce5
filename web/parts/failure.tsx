import { useQueryErrorResetBoundary } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { ApiProblem } from '../api.ts';
import type { Problem } from '../api.ts';
import { Page } from './page.tsx';
import { ProblemNotice } from './problem-notice.tsx';

function problemFor(error: unknown): Problem {
  if (error instanceof ApiProblem) return error.problem;
  return {
    title: 'Poursheet failed on this page',
    detail: error instanceof Error ? error.message : String(error),
    status: 0,
    errors: [],
    requestId: '',
  };
}

/** Stands in place of a page that could not be shown. */
export function Failure(props: { error: unknown; reset: () => void }) {
  const { error, reset } = props;
  const queries = useQueryErrorResetBoundary();
  const router = useRouter();
  const problem = problemFor(error);
  return (
    <Page title={problem.status === 404 ? 'Not found' : 'This page could not be shown'}>
      <ProblemNotice problem={problem} />
      <p className="actions">
        <button
          type="button"
          onClick={() => {
            queries.reset();
            reset();
            void router.invalidate();
          }}
        >
          Try again
        </button>
      </p>
    </Page>
  );
}
