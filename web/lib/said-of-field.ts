/** A refusal of a field under its label; a sentence that names the field itself is not put under its name again. */
export function saidOfField(label: string, detail: string): string {
  return detail.toLowerCase().startsWith(`${label.toLowerCase()} `) ? detail : `${label}: ${detail}`;
}
