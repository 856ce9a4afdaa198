/** What is said where a figure that somebody typed is not taken. */
export const untakenWords = 'A figure is not taken yet: its reason stands below it.';

/** Goes to the first field in an element whose figure is not taken; whether there is one. */
export function goToUntaken(fields: HTMLElement): boolean {
  const wrong = fields.querySelector<HTMLInputElement>('[aria-invalid="true"]');
  wrong?.focus();
  return wrong !== null;
}
