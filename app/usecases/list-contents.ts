import type { ResponseOf } from '../contract/calls.ts'
import { buildCodesOf } from './builds-of-content.ts'
import type { CardPorts } from './card-ports.ts'

/** All contents that were made, newest first. */
export async function listContents(ports: Pick<CardPorts, 'database'>): Promise<ResponseOf<'contents:list'>> {
  const { records } = ports.database
  const [contents, builds] = await Promise.all([records.listContents(), records.listBuilds()])
  return {
    contents: contents.map((content) => ({
      fingerprint: content.fingerprint,
      createdAt: content.createdAt,
      board: content.boardId,
      ...buildCodesOf(content, builds),
      imageBytes: content.geometry.imageBytes,
      fonts: content.fonts.map((font) => font.fontName),
    })),
  }
}
