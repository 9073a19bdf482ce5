import { useLayoutEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { useMatch } from '@tanstack/react-router';
import { losesFocus, takesFocus } from '../lib/page-focus.ts';

/** One page: its heading, which takes the focus after a navigation, and the document's title. */
export function Page(props: { title: string; children: ReactNode }) {
  const { title, children } = props;
  const headingRef = useRef<HTMLHeadingElement>(null);
  const place = useMatch({ strict: false, select: (match) => `${match.routeId} ${match.pathname}` });
  // A layout effect, because a part of the page that is still to come hides the page for a moment: layout
  // effects are undone for that time and done again, while the browser takes the focus off what is hidden.
  useLayoutEffect(() => {
    const heading = headingRef.current;
    if (takesFocus(place)) heading?.focus({ preventScroll: true });
    return () => {
      if (document.activeElement === heading) losesFocus();
    };
  }, [place]);
  return (
    <>
      <title>{`${title} – Poursheet`}</title>
      <h1 ref={headingRef} tabIndex={-1}>
        {title}
      </h1>
      {children}
    </>
  );
}
