import type { Content } from '../model/content.ts'
import type { Build } from '../model/records.ts'

type Made = Pick<Content, 'buildId' | 'furtherBuildIds'>

/** Builds that a content was made for, the first one first; none where it was made of fonts alone. */
export function buildIdsOf({ buildId, furtherBuildIds = [] }: Made): readonly string[] {
  return buildId === null ? [] : [buildId, ...furtherBuildIds]
}

/** Whose builds a content is, in their codes: the first, or null, and all. */
export function buildCodesOf(
  content: Made,
  builds: readonly Pick<Build, 'id' | 'code'>[],
): { readonly build: string | null; readonly builds: readonly string[] } {
  const codes = new Map(builds.map(({ id, code }) => [id, code]))
  const all = buildIdsOf(content).flatMap((id) => codes.get(id) ?? [])
  return { build: all[0] ?? null, builds: all }
}
