/**
 * Sounds that are the same, whatever their headers and tags say: groups of two or more with one
 * sample hash, in the order of their first member. A sound without samples has no duplicate.
 */
export function duplicateSounds<S extends { readonly sampleHash: string | null }>(
  sounds: readonly S[],
): S[][] {
  const groups = new Map<string, S[]>()
  for (const sound of sounds) {
    if (sound.sampleHash === null) continue
    const group = groups.get(sound.sampleHash)
    if (group === undefined) groups.set(sound.sampleHash, [sound])
    else group.push(sound)
  }
  return [...groups.values()].filter((group) => group.length > 1)
}
