import { useParams } from '@tanstack/react-router';

/** The id that the address of the page holds under a name, for example `lotId` of `/lots/$lotId`. */
export function useRecordId(name: string): string {
  const params: Readonly<Record<string, unknown>> = useParams({ strict: false });
  const id = params[name];
  if (typeof id !== 'string') throw new Error(`The address of this page holds no ${name}.`);
  return id;
}
