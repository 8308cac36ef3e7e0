import type { ResponseOf } from '../contract/calls.ts'
import type { CardPorts } from './card-ports.ts'

/** All contents that were made, newest first. */
export async function listContents(ports: Pick<CardPorts, 'database'>): Promise<ResponseOf<'contents:list'>> {
  const { records } = ports.database
  const [contents, builds] = await Promise.all([records.listContents(), records.listBuilds()])
  const codes = new Map(builds.map((build) => [build.id, build.code]))
  return {
    contents: contents.map((content) => ({
      fingerprint: content.fingerprint,
      createdAt: content.createdAt,
      board: content.boardId,
      build: content.buildId === null ? null : (codes.get(content.buildId) ?? null),
      imageBytes: content.geometry.imageBytes,
      fonts: content.fonts.map((font) => font.fontName),
    })),
  }
}
