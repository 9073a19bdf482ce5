import { useLocation } from '@tanstack/react-router';

/** What the page's address asks for under a name; '' where it asks for nothing. */
export function useAsked(name: string): string {
  return useLocation({
    select: (location) => {
      const asked = (location.search as Record<string, unknown>)[name];
      return typeof asked === 'string' ? asked : '';
    },
  });
}
