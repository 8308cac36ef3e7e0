import type { FontLook } from './font-look.ts'
import type { FontRule, SoundMiss } from './rule.ts'
import type { RuleId } from './severities.ts'

/**
 * Every file of a font whose name is to be judged: sounds and companions. A sound that the plan names
 * anew is left out: `scheme-name` tells of all of those at once.
 */
export function pathsOf({ edition, context, cardPathOf }: FontLook): readonly string[] {
  const sounds = context.inPlace
    ? edition.sounds
    : edition.sounds.filter(({ path, place }) => place === null || !cardPathOf.has(path))
  return [...sounds, ...edition.companions].map((file) => file.path)
}

/**
 * A rule that looks at each name of a path by itself: folders, then the file. One finding a file; on a card
 * as found one for the font's own folder too.
 */
export function nameRule(
  id: RuleId,
  judgeName: (name: string, look: FontLook) => SoundMiss | null,
): FontRule {
  return {
    id,
    judge: (look) => {
      const { inPlace, folder } = look.context
      const ofFolder = inPlace && folder !== undefined ? missIn(folder) : null
      const ofFiles = pathsOf(look).flatMap((path) => {
        const miss = missIn(path)
        return miss === null ? [] : [{ path, ...miss }]
      })
      return ofFolder === null ? ofFiles : [{ path: null, ...ofFolder }, ...ofFiles]

      function missIn(path: string): SoundMiss | null {
        for (const name of path.split('/')) {
          const miss = judgeName(name, look)
          if (miss !== null) return miss
        }
        return null
      }
    },
  }
}

/** A rule about names that cannot live side by side: files of one folder that share a key, yet differ. */
export function clashRule(
  id: RuleId,
  keyOf: (path: string) => string,
  say: (path: string, other: string, look: FontLook) => SoundMiss,
): FontRule {
  return {
    id,
    judge: (look) => {
      const first = new Map<string, string>()
      return pathsOf(look).flatMap((path) => {
        const key = keyOf(path)
        const other = first.get(key)
        if (other === undefined) first.set(key, path)
        return other === undefined || other === path ? [] : [{ path, ...say(path, other, look) }]
      })
    },
  }
}

/** How a name is mended: by the plan for a font of the library, by hand on a card as found. */
export function renameMend({ context }: FontLook): { mend: string; fixable: boolean } {
  return context.inPlace
    ? { mend: 'Rename it, or make the card anew.', fixable: false }
    : { mend: 'Nothing to do: the card gets a name that fits.', fixable: true }
}
