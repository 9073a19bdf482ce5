import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { useMatch } from '@tanstack/react-router';
import { takesFocus } from '../lib/page-focus.ts';

/** One page: its heading, which takes the focus after a navigation, and the document's title. */
export function Page(props: { title: string; children: ReactNode }) {
  const { title, children } = props;
  const headingRef = useRef<HTMLHeadingElement>(null);
  const place = useMatch({ strict: false, select: (match) => `${match.routeId} ${match.pathname}` });
  useEffect(() => {
    if (takesFocus(place)) headingRef.current?.focus({ preventScroll: true });
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
