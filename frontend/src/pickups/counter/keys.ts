/** Keys that a desk has and a phone has not. */

/** A name is the last that is typed: Enter in it leads on to the one key that ends the visit. */
export function nameToEnd(event: KeyboardEvent, end: string): void {
  if (event.key !== "Enter" || (event.target as HTMLElement).id !== "signer") return;
  event.preventDefault();
  event.stopPropagation();
  document.getElementById(end)?.focus();
}
