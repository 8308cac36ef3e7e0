/** Where a sound is heard from, as it came or as it was prepared for a board: the same at both doors. */
export function soundAddress(soundId: string, preparedForBoardId?: string): string {
  const original = `/sound/${encodeURIComponent(soundId)}`
  return preparedForBoardId === undefined
    ? original
    : `${original}?prepared-for=${encodeURIComponent(preparedForBoardId)}`
}
