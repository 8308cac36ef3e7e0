import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { readBoard } from '../../app/boards/read-board.ts'
import type { Board } from '../../app/model/board.ts'

const folder = new URL('../../resources/boards/', import.meta.url)

export function sha256Hex(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex')
}

/** Text of a shipped board as it lies in the repository. */
export function shippedBoardText(id: string): string {
  return readFileSync(new URL(`${id}.yaml`, folder), 'utf8')
}

/** A shipped board, read afresh. */
export function shippedBoard(id: string): Board {
  return readBoard(shippedBoardText(id), `${id}.yaml`, { parentOf: () => undefined, sha256Hex })
}

/** A board of the test's own: what the text says over `bench-44`. */
export function boardLikeBench44(yaml: string): Board {
  const text = `board: { id: mine, title: Mine }\nextends: bench-44\n${yaml}`
  return readBoard(text, 'mine.yaml', { parentOf: shippedBoard, sha256Hex })
}
