import { diffContents } from '../cards/diff-contents.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { ContentFont } from '../model/content.ts'
import type { RecordsReader } from '../ports/bench-records.ts'
import { namedContent } from './named-content.ts'

/** Everything on record of one content. @throws AppError `verify/unknown-content` */
export async function showContent(
  words: string,
  records: RecordsReader,
): Promise<ResponseOf<'contents:show'>> {
  const content = await namedContent(words, records)
  const builds = content.buildId === null ? [] : await records.listBuilds()
  return {
    fingerprint: content.fingerprint,
    createdAt: content.createdAt,
    board: content.boardId,
    boardHash: content.boardHash,
    build: builds.find((build) => build.id === content.buildId)?.code ?? null,
    fileSystem: content.geometry.fatType,
    clusterBytes: content.geometry.clusterBytes,
    imageBytes: content.geometry.imageBytes,
    imageHash: content.imageHash,
    toolVersion: content.toolVersion,
    fonts: content.fonts.map(({ slot, folder, fontName, version, creatorName, sizeBytes }) => ({
      slot,
      folder,
      font: fontName,
      version,
      creator: creatorName,
      sizeBytes,
    })),
    files: content.files.map(({ path, sizeBytes, sha256, origin }) => ({
      path,
      sizeBytes,
      sha256,
      kind: origin.kind,
    })),
    acceptedFindings: content.acceptedFindings.map((accepted) => ({ ...accepted })),
  }
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
