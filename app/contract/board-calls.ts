import { z } from 'zod'
import { KNOWLEDGE } from '../model/board.ts'
import { SEVERITIES, WEIGHTS } from '../model/finding.ts'
import * as shapes from './shapes.ts'
import { id } from './shapes.ts'

const path = z.string().min(1).max(32_768)
const boardText = z.string().max(1_000_000)
const limitWords = z.strictObject({ words: z.string(), known: z.enum(KNOWLEDGE) })

/** One thing wrong in a text; lines and columns count from 1. */
export const textProblem = z.strictObject({ line: z.int(), column: z.int(), message: z.string() })

const keptBoard = z.strictObject({ board: shapes.boardSummary, text: z.string(), path: z.string() })

/** How one sound is called now, and how on the card. */
export const nameChange = z.strictObject({
  from: z.string(),
  kind: z.enum(['sound', 'companion']),
  /** Below the card's root; null where it gets no name there. */
  to: z.string().nullable(),
  isRenamed: z.boolean(),
  /** Why it gets no name, in one sentence; null where it gets one. */
  conflict: z.string().nullable(),
  /** Whether it gets none on purpose: told to be for nothing, or wanted by no board. */
  isLeftOff: z.boolean(),
})

export const guessedSound = z.strictObject({
  path: z.string(),
  /** As it is known; null while nobody told and no scheme reads it. */
  place: shapes.soundPlace.nullable(),
  roleSource: z.enum(['scheme', 'inferred', 'user']).nullable(),
  /** Null where the role is known already. */
  guess: z
    .strictObject({
      place: shapes.soundPlace.nullable(),
      confidence: z.number(),
      isConfident: z.boolean(),
      reasons: z.array(z.string()).readonly(),
    })
    .nullable(),
})

const rolesOfFont = z.strictObject({
  editionId: id,
  font: z.string(),
  version: z.string(),
  schemeId: z.string().nullable(),
  sounds: z.array(guessedSound).readonly(),
  knownCount: z.int(),
  confidentCount: z.int(),
  askCount: z.int(),
})

export const schemeSummary = z.strictObject({
  id,
  title: z.string(),
  notes: z.string(),
  source: z.enum(['shipped', 'workshop']),
  templates: z.array(z.string()).readonly(),
  /** A few names as the scheme writes them, with what they say. */
  examples: z.array(z.strictObject({ name: z.string(), place: shapes.soundPlace })).readonly(),
})

/** Calls about boards, schemes, roles and names; part of `calls`. */
export const boardCalls = {
  /** What is wrong with a board's text, and the board it makes where nothing is. Writes nothing. */
  'boards:test': {
    long: false,
    request: z.strictObject({ text: boardText }),
    response: z.strictObject({
      problems: z.array(textProblem).readonly(),
      board: shapes.boardSummary.nullable(),
    }),
  },
  /** A new board of the workshop: an empty one to fill in, or one that extends another. */
  'boards:new': {
    long: false,
    request: z.strictObject({
      boardId: id,
      title: z.string().trim().min(1).max(120),
      parentId: id.optional(),
    }),
    response: keptBoard,
  },
  /** Keeps the text of a board of the workshop; a text with a fault is refused, and the old one stays. */
  'boards:save': {
    long: false,
    request: z.strictObject({ boardId: id, text: boardText }),
    response: keptBoard,
  },
  /** Boards as they were when cards were made with them, newest first. */
  'boards:versions': {
    long: false,
    request: z.strictObject({ boardId: id.optional() }),
    response: z.strictObject({
      versions: z
        .array(
          z.strictObject({
            board: id,
            hash: z.string(),
            keptAt: z.string(),
            /** Whether a board of the shelf is the same to this day. */
            isCurrent: z.boolean(),
            cards: z
              .array(
                z.strictObject({
                  fingerprint: z.string(),
                  createdAt: z.string(),
                  build: z.string().nullable(),
                  /** Every build that it was made for, `build` first. */
                  builds: z.array(z.string()).readonly(),
                }),
              )
              .readonly(),
          }),
        )
        .readonly(),
    }),
  },
  /** Every rule with its severity and why; of a board, with what that changes. */
  'boards:rules': {
    long: false,
    request: z.strictObject({ boardId: id.optional() }),
    response: z.strictObject({
      board: id.nullable(),
      rules: z
        .array(
          z.strictObject({
            rule: z.string(),
            severity: z.enum(SEVERITIES),
            /** On a card as it lies there, where nothing is renamed any more. */
            inPlace: z.enum(SEVERITIES),
            because: z.string(),
            change: z.strictObject({ severity: z.enum(WEIGHTS), reason: z.string() }).nullable(),
          }),
        )
        .readonly(),
    }),
  },
  'boards:diff': {
    long: false,
    request: z.strictObject({ boardIdA: id, boardIdB: id }),
    response: z.strictObject({
      boardA: id,
      boardB: id,
      differences: z.array(z.strictObject({ limit: z.string(), a: limitWords, b: limitWords })).readonly(),
    }),
  },
  /** A first board from a card that plays: its folder or its image. With an id it is kept in the workshop. */
  'boards:draft': {
    long: true,
    request: z.strictObject({
      from: path,
      boardId: id,
      title: z.string().trim().min(1).max(120),
      keep: z.boolean(),
    }),
    response: z.strictObject({
      board: shapes.boardSummary,
      text: z.string(),
      /** Where it was kept; null where it was only shown. */
      path: z.string().nullable(),
      soundCount: z.int(),
      fontFolders: z.array(z.string()).readonly(),
    }),
  },
  /** Moves limits of a board of the workshop by sounds that were tried in the hilt: files, or sounds of the library. */
  'boards:learn': {
    long: true,
    request: z.strictObject({
      boardId: id,
      heard: z.array(path).max(500).readonly(),
      silent: z.array(path).max(500).readonly(),
      heardSounds: z.array(id).max(2000).readonly().optional(),
      silentSounds: z.array(id).max(2000).readonly().optional(),
    }),
    response: z.strictObject({
      ...keptBoard.shape,
      moves: z
        .array(z.strictObject({ limit: z.string(), known: z.enum(KNOWLEDGE), because: z.string() }))
        .readonly(),
      unclear: z.array(z.strictObject({ path: z.string(), why: z.string() })).readonly(),
    }),
  },
  'schemes:list': {
    long: false,
    request: z.strictObject({}),
    response: z.strictObject({
      schemes: z.array(schemeSummary).readonly(),
      /** Files of the workshop that cannot be used, each in one sentence. */
      problems: z.array(z.string()).readonly(),
    }),
  },
  /** What each sound of a font is for, and a guess where nobody knows. */
  'roles:show': { long: false, request: z.strictObject({ editionId: id }), response: rolesOfFont },
  /** Tells roles; `null` takes the role away. A later scan leaves them as told. */
  'roles:set': {
    long: false,
    request: z.strictObject({
      editionId: id,
      changes: z
        .array(z.strictObject({ path: z.string(), place: shapes.soundPlace.nullable() }))
        .min(1)
        .max(20_000)
        .readonly(),
    }),
    response: rolesOfFont,
  },
  /** Takes back what was told: names are read by the schemes again. All sounds, or those named. */
  'roles:forget': {
    long: false,
    request: z.strictObject({ editionId: id, paths: z.array(z.string()).max(20_000).readonly().optional() }),
    response: rolesOfFont,
  },
  /** Makes a scheme of the workshop from a font's roles as they are known now. */
  'roles:keep-scheme': {
    long: false,
    request: z.strictObject({ editionId: id, schemeId: id, title: z.string().trim().min(1).max(120) }),
    response: z.strictObject({ scheme: schemeSummary, text: z.string(), path: z.string() }),
  },
  /** A font's names now and on the card; nothing is renamed in place. */
  translate: {
    long: false,
    request: z.strictObject({ editionId: id, boardId: id }),
    response: z.strictObject({
      editionId: id,
      font: z.string(),
      board: id,
      folder: z.string(),
      names: z.array(nameChange).readonly(),
      renamedCount: z.int(),
      conflictCount: z.int(),
    }),
  },
  /** What a board makes of a card as it lies there: its folder or its image. Nothing is renamed for it any more. */
  'check:card': {
    long: true,
    request: z.strictObject({
      from: path,
      boardId: id,
      /** Where a page for the fonts' creators is written, as `check:report` does. */
      reportPath: path.optional(),
    }),
    response: z.strictObject({
      board: id,
      boardTitle: z.string(),
      fonts: z
        .array(
          z.strictObject({
            folder: z.string(),
            soundCount: z.int(),
            verdict: shapes.verdict,
            findings: z.array(shapes.finding).readonly(),
          }),
        )
        .readonly(),
      cardFindings: z.array(shapes.finding).readonly(),
    }),
  },
  /** A check as one self-contained HTML page for a font's creator: no client and no path of this computer. */
  'check:report': {
    long: true,
    request: z.strictObject({
      boardId: id,
      editionIds: z.array(id).min(1).max(100_000).readonly(),
      /** Where the page is written, in place of one of that name; a bare name lies in the images folder. */
      reportPath: path.optional(),
    }),
    response: z.strictObject({
      html: z.string(),
      /** Null where it was not written. */
      reportPath: z.string().nullable(),
      board: id,
      fontCount: z.int(),
      errorCount: z.int(),
    }),
  },
} as const
