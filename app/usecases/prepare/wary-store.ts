import type { ContentStore } from '../../ports/content-store.ts'

/** A store whose copies are looked at before they are counted on. */
export interface WaryStore {
  readonly store: ContentStore
  /** What was found damaged, in words. */
  cautions(): readonly string[]
}

/**
 * Puts damaged copies aside when they are asked for: then an original is taken from its folder again, and
 * a prepared sound made again. Without it a sound would be prepared out of damaged bytes, and recorded as
 * made of the whole ones.
 */
export function waryStore(store: ContentStore): WaryStore {
  const aside: string[] = []
  const look = async (sha256: string): Promise<void> => {
    const path = await store.putAsideDamaged(sha256)
    if (path !== null) aside.push(path)
  }
  return {
    store: {
      ...store,
      async has(sha256) {
        await look(sha256)
        return store.has(sha256)
      },
      async pathOf(sha256) {
        await look(sha256)
        return store.pathOf(sha256)
      },
    },
    cautions() {
      const [first] = aside
      if (first === undefined) return []
      const copies = aside.length === 1 ? 'A copy' : `${aside.length} copies`
      const were = aside.length === 1 ? 'was' : 'were'
      return [
        `${copies} in the workshop ${were} damaged, ${were} put aside (${first}) and, where that was possible, replaced. Check the disk.`,
      ]
    },
  }
}
