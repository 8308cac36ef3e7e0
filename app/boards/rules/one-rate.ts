import type { FontRule, Miss } from './rule.ts'

/** All sounds of a font share one rate. Only rates that the board takes are compared: others are findings already. */
export const oneRate: FontRule = {
  id: 'one-rate',
  judge: ({ board, edition }) => {
    if (board.audio.oneRateInFont !== true) return []
    const counts = new Map<number, number>()
    for (const { inspection } of edition.sounds) {
      const rate = inspection.facts?.sampleRateHz ?? null
      if (rate === null || board.audio.sampleRatesHz?.includes(rate) === false) continue
      counts.set(rate, (counts.get(rate) ?? 0) + 1)
    }
    if (counts.size < 2) return []
    const [usual = 0] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0] ?? []
    return edition.sounds.flatMap(({ path, inspection }): Miss[] => {
      const rate = inspection.facts?.sampleRateHz ?? null
      if (rate === null || rate === usual || !counts.has(rate)) return []
      return [
        {
          path,
          message: `The sample rate is ${rate} Hz, and most sounds of this font have ${usual} Hz.`,
          why: 'The board sets its rate once a font and plays this sound at the wrong pitch.',
          mend: 'Prepare can resample it.',
          fixable: true,
          measured: rate,
          limit: usual,
        },
      ]
    })
  },
}
