/**
 * Focuses a line that was just scrolled to: at once where it is drawn already, since a key that follows
 * fast is meant for it and not for the line before; else with the next frame.
 */
export function focusLine(find: () => HTMLElement | null | undefined): void {
  const drawn = find()
  if (drawn) drawn.focus()
  else requestAnimationFrame(() => find()?.focus())
}
