import { useEffect, useRef, useState } from 'react';
import type { RefObject } from 'react';

/** Whether an element's content is wider than the element: only then must a keyboard be able to scroll it. */
export function useOverflow<Element extends HTMLElement>(): {
  ref: RefObject<Element | null>;
  overflows: boolean;
} {
  const ref = useRef<Element>(null);
  const [overflows, setOverflows] = useState(false);
  useEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    const measure = (): void => setOverflows(element.scrollWidth > element.clientWidth + 1);
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    if (element.firstElementChild !== null) observer.observe(element.firstElementChild);
    return () => observer.disconnect();
  }, []);
  return { ref, overflows };
}
