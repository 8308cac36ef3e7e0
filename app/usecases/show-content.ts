import { sizeAgain } from '../cards/card-size.ts'
import { diffContents } from '../cards/diff-contents.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { Content, ContentFont } from '../model/content.ts'
import type { RecordsReader } from '../ports/bench-records.ts'
import { buildCodesOf } from './builds-of-content.ts'
import { namedContent } from './named-content.ts'

/** Everything on record of one content. @throws AppError `verify/unknown-content` */
export async function showContent(
  words: string,
  records: RecordsReader,
): Promise<ResponseOf<'contents:show'>> {
  const content = await namedContent(words, records)
  const builds = content.buildId === null ? [] : await records.listBuilds()
  const size = sizeAgain(content.files, content.geometry)
  return {
    fingerprint: content.fingerprint,
    createdAt: content.createdAt,
    board: content.boardId,
    boardHash: content.boardHash,
    ...buildCodesOf(content, builds),
    fileSystem: content.geometry.fatType,
    clusterBytes: content.geometry.clusterBytes,
    imageBytes: content.geometry.imageBytes,
    imageHash: content.imageHash,
    toolVersion: content.toolVersion,
    usedBytes: size.usedBytes,
    freeBytes: size.freeBytes,
    fonts: content.fonts.map(({ slot, folder, editionId, fontName, version, creatorName, sizeBytes }) => ({
      editionId,
      slot,
      folder,
      font: fontName,
      version,
      creator: creatorName,
      sizeBytes,
      usedBytes: size.folders.get(folder)?.usedBytes ?? 0,
    })),
    files: content.files.map(({ path, sizeBytes, sha256, origin }) => ({
      path,
      sizeBytes,
      sha256,
      kind: origin.kind,
    })),
    config: content.config ?? null,
    singleSounds: [...(content.singleSounds ?? [])],
    lenders: (content.lenders ?? []).map(({ editionId, fontName, version }) => {
      return { editionId, font: fontName, version }
    }),
    recipes: recipesOf(content),
    acceptedFindings: content.acceptedFindings.map((accepted) => ({ ...accepted })),
    ruleChanges: [...(content.ruleChanges ?? [])],
  }
}

/** Each prepared file of the card with what was done to its original. */
function recipesOf({ files, recipes = [] }: Content): ResponseOf<'contents:show'>['recipes'] {
  const made = new Map(recipes.map((each) => [each.sha256, each]))
  return files.flatMap(({ path, sha256, origin }) => {
    const recipe = origin.kind === 'sound' ? made.get(sha256) : undefined
    if (recipe === undefined) return []
    const steps = recipe.recipe.steps.map(({ action, rule, reason }) => ({ step: action.do, rule, reason }))
    return [{ path, originalSha256: recipe.originalSha256, steps }]
  })
}

/** How one content differs from another. @throws AppError `verify/unknown-content` */
export async function compareContents(
  words: { readonly a: string; readonly b: string },
  records: RecordsReader,
): Promise<ResponseOf<'contents:diff'>> {
  const [a, b] = await Promise.all([namedContent(words.a, records), namedContent(words.b, records)])
  const diff = diffContents(a, b)
  return {
    a: a.fingerprint,
    b: b.fingerprint,
    ...diff,
    fontsOnlyInA: diff.fontsOnlyInA.map(fontOnCard),
    fontsOnlyInB: diff.fontsOnlyInB.map(fontOnCard),
  }
}

function fontOnCard({ slot, fontName, version }: ContentFont) {
  return { slot, font: fontName, version }
}
