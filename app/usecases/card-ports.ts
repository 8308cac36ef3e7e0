import type { Scheme } from '../boards/scheme.ts'
import type { Board } from '../model/board.ts'
import type { Finding, Verdict } from '../model/finding.ts'
import type { Edition } from '../model/library.ts'
import type { Build } from '../model/records.ts'
import type { NewHasher } from '../ports/bytes.ts'
import type { CardImages } from '../ports/card-images.ts'
import type { CardReader } from '../ports/card-reader.ts'
import type { ContentStore } from '../ports/content-store.ts'
import type { LicenceDocuments } from '../ports/licence-documents.ts'
import type { Clock } from '../ports/machine.ts'
import type { NamedLocks } from '../ports/named-locks.ts'
import type { Originals } from '../ports/originals.ts'
import type { RunControl } from '../ports/progress.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** What a check says of one edition for a board. */
export interface Judgement {
  readonly verdict: Verdict
  readonly findings: readonly Finding[]
}

export interface BoardInUse {
  readonly board: Board
  readonly text: string
  readonly scheme: Scheme
}

/** What the use cases about cards need from outside. */
export interface CardPorts {
  readonly database: WorkshopDatabase
  /**
   * A board with its text as it is kept beside a content, whole without what it extends, and the scheme that it plays by.
   * @throws AppError `board/unknown`, `scheme/unknown`
   */
  getBoard(boardId: string): Promise<BoardInUse>
  /** One judgement an edition, in the order given; for a build with what it changes of the rules. */
  judgeAll(
    editions: readonly Edition[],
    board: Board,
    build: Build | null,
    control?: RunControl,
  ): Promise<readonly Judgement[]>
  /** Findings about the card as a whole: too many fonts, config files and the like. */
  judgeCard(
    editions: readonly Edition[],
    board: Board,
    build: Build | null,
    control?: RunControl,
  ): Promise<readonly Finding[]>
  readonly store: ContentStore
  readonly originals: Originals
  readonly locks: NamedLocks
  readonly images: CardImages
  readonly reader: CardReader
  /** Loaded when first asked for: every start of the program would pay for what few acts need. */
  openDocuments(): Promise<LicenceDocuments>
  readonly newHasher: NewHasher
  readonly clock: Clock
  readonly toolVersion: string
}
