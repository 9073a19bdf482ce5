import { useEffect, useState } from 'react';
import { useLocation, useNavigate } from '@tanstack/react-router';

const writeAfterMs = 400;

/** What of a what-if belongs into the address: only what differs from the start. */
export function differingFrom<Values extends Record<string, string>>(
  start: Values,
  values: Values,
): Record<string, string> {
  return Object.fromEntries(Object.entries(values).filter(([name, value]) => value !== start[name]));
}

/** The values that an address names, the start's for all others; names that the start does not know are left out. */
export function valuesFrom<Values extends Record<string, string>>(
  start: Values,
  search: Readonly<Record<string, unknown>>,
): Values {
  return Object.fromEntries(
    Object.entries(start).map(([name, value]) => {
      const found = search[name];
      return [name, typeof found === 'string' ? found : value];
    }),
  ) as Values;
}

/**
 * A what-if whose values are the page's address, so that it can be kept and
 * sent. What is typed counts at once and is written into the address shortly
 * after; going back in the browser brings the earlier values back.
 */
export function useSearchState<Values extends Record<string, string>>(
  start: Values,
): {
  values: Values;
  set: (name: keyof Values & string, value: string) => void;
  reset: () => void;
  changed: boolean;
} {
  const search = useLocation({ select: (location) => location.search as Record<string, unknown> });
  const navigate = useNavigate();
  const inAddress = JSON.stringify(differingFrom(start, valuesFrom(start, search)));
  const [values, setValues] = useState(() => valuesFrom(start, search));
  const [seenAddress, setSeenAddress] = useState(inAddress);
  const [written, setWritten] = useState(inAddress);
  const wanted = JSON.stringify(differingFrom(start, values));

  if (inAddress !== seenAddress) {
    setSeenAddress(inAddress);
    // Its own writing coming back is old news: more may have been typed since.
    if (inAddress !== written) setValues(valuesFrom(start, search));
  }

  useEffect(() => {
    if (wanted === inAddress) return undefined;
    const timer = setTimeout(() => {
      const known = Object.keys(start);
      const others = Object.fromEntries(Object.entries(search).filter(([name]) => !known.includes(name)));
      setWritten(wanted);
      void navigate({
        to: '.',
        search: { ...others, ...(JSON.parse(wanted) as Record<string, string>) },
        replace: true,
        resetScroll: false,
      });
    }, writeAfterMs);
    return () => clearTimeout(timer);
  }, [wanted, inAddress, navigate, search, start]);

  return {
    values,
    set: (name, value) => setValues((earlier) => ({ ...earlier, [name]: value })),
    reset: () => setValues(start),
    changed: wanted !== '{}',
  };
}
