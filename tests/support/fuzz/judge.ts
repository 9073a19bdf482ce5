import type { FuzzRequest } from './requests.ts';

export interface Judged {
  isRefused: boolean;
  status: number;
  /** The sentence of a refusal. */
  said: string;
  faults: string[];
}

/** Words of the machinery, which tell a stranger of it and help nobody. */
const MACHINERY =
  /node_modules|\bat \S+ \(|\.(ts|js):\d|select .+ from |insert into|violates|TypeError|RangeError/i;

interface ProblemDocument {
  type?: unknown;
  title?: unknown;
  status?: unknown;
  detail?: unknown;
  errors?: unknown;
}

function faultsOfProblem({ type, title, status, detail, errors }: ProblemDocument): string[] {
  const faults: string[] = [];
  if (typeof type !== 'string' || typeof title !== 'string' || typeof status !== 'number')
    faults.push('lacks members of a problem');
  if (typeof detail !== 'string' || !/^\S.*[.!?…”"]$/s.test(detail))
    faults.push(`says no sentence: ${String(detail)}`);
  else if (MACHINERY.test(detail)) faults.push(`tells of the machinery: ${detail}`);
  // A file and a header have no fields: the sentence says which of them it is about.
  const isOfAField = !/^(The file|Line \d+|The table|This idempotency key)\b/.test(String(detail));
  if (status === 422 && Array.isArray(errors) && errors.length === 0 && isOfAField)
    faults.push(`names no field: ${String(detail)}`);
  return faults;
}

/** What is wrong with an answer, whatever was asked. */
export async function judged(request: FuzzRequest, response: Response): Promise<Judged> {
  const { status, headers } = response;
  const bytes = await response.arrayBuffer();
  const type = headers.get('content-type') ?? '';
  const text = (): string => new TextDecoder().decode(bytes);
  const said = (): string => /"detail":"([^"]*)/.exec(text())?.[1] ?? '';
  const faults: string[] = [];
  if (status >= 500) faults.push(`answered ${status}: ${text().slice(0, 300)}`);
  if (status >= 400) {
    if (request.method === 'HEAD') return { isRefused: true, status, said: said(), faults };
    if (type.includes('application/problem+json'))
      faults.push(...faultsOfProblem(JSON.parse(text()) as object));
    else faults.push(`refused with ${status} and no problem document`);
    return { isRefused: true, status, said: said(), faults };
  }
  // An import answers at once and says at the end of its lines how it went.
  if (type.includes('ndjson')) {
    const last = JSON.parse(text().trim().split('\n').at(-1) ?? '{}') as { problem?: ProblemDocument };
    if (last.problem === undefined) return { isRefused: false, status, said: '', faults };
    if (Number(last.problem.status) >= 500)
      faults.push(`ended with ${JSON.stringify(last.problem).slice(0, 300)}`);
    return { isRefused: true, status, said: said(), faults };
  }
  return { isRefused: false, status, said: '', faults };
}
