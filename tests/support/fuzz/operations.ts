import { GRANTS_FIELD } from '../../../api/accounts/grants.ts';

/** As much of JSON Schema (draft 2020-12) as the API's document uses. */
export interface JsonSchema {
  type?: string | string[];
  enum?: unknown[];
  format?: string;
  pattern?: string;
  minLength?: number;
  maxLength?: number;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
  items?: JsonSchema;
  minItems?: number;
  maxItems?: number;
  properties?: Record<string, JsonSchema>;
  required?: string[];
  additionalProperties?: JsonSchema | boolean;
  oneOf?: JsonSchema[];
  anyOf?: JsonSchema[];
}

export interface Parameter {
  in: 'path' | 'query' | 'header';
  name: string;
  required?: boolean;
  schema: JsonSchema;
}

/** An endpoint as the OpenAPI document describes it. */
export interface Operation {
  method: string;
  path: string;
  parameters: Parameter[];
  /** Of a JSON body; null where there is none or it is a file. */
  body: JsonSchema | null;
  takesFile: boolean;
  grants: string[];
}

interface Described {
  parameters?: Parameter[];
  requestBody?: { content: Record<string, { schema: JsonSchema }> };
  [GRANTS_FIELD]?: string[];
}

export interface ApiDocument {
  paths: Record<string, Record<string, Described>>;
}

export function operationsOf({ paths }: ApiDocument): Operation[] {
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, described]) => ({
      method: method.toUpperCase(),
      path,
      parameters: described.parameters ?? [],
      body: described.requestBody?.content['application/json']?.schema ?? null,
      takesFile: described.requestBody?.content['text/csv'] !== undefined,
      grants: described[GRANTS_FIELD] ?? [],
    })),
  );
}
