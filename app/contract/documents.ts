import { z } from 'zod'
import { schemeSummary } from './board-calls.ts'
import { calls } from './calls.ts'
import { measuredSound } from './measured-sound.ts'
import * as shapes from './shapes.ts'

/** What `--json` prints where a command fails. */
const failure = z.strictObject({
  error: shapes.told,
})

const soundsOfFont = z.strictObject({
  editionId: shapes.id,
  font: z.string(),
  version: z.string(),
  sounds: shapes.edition.shape.sounds,
  companions: shapes.edition.shape.companions,
  litter: shapes.edition.shape.litter,
})

const creatorShown = z.strictObject({ creator: shapes.creator, fonts: z.array(z.string()).readonly() })

/** Roles of a font, and the scheme that was made of them where one was asked for. */
const rolesWithScheme = z.strictObject({
  ...calls['roles:show'].response.shape,
  scheme: calls['roles:keep-scheme'].response.nullable(),
})

/**
 * Every JSON document of the command line, by the words of its command joined with hyphens. They
 * are a promise: resources/schemas/documents/ holds a JSON Schema of each.
 */
export const documents = {
  error: failure,
  status: calls['workshop:status'].response,
  'status-set': calls['workshop:change'].response,
  demo: calls['demo:prepare'].response,
  scan: calls.scan.response,
  'fonts-list': calls['fonts:list'].response,
  'fonts-show': calls['fonts:show'].response,
  'fonts-duplicates': calls['fonts:duplicates'].response,
  'fonts-set': calls['fonts:set'].response,
  'fonts-originals': calls['originals:show'].response,
  'fonts-keep': calls['originals:keep'].response,
  'fonts-release': calls['originals:release'].response,
  sounds: soundsOfFont,
  measure: z.array(measuredSound),
  check: calls.check.response,
  'check-card': calls['check:card'].response,
  size: calls.size.response,
  prepare: calls.prepare.response,
  make: calls.make.response,
  /** Of `make --into`. */
  'make-into': calls['make:into'].response,
  verify: calls.verify.response,
  'cards-list': calls['contents:list'].response,
  'cards-show': calls['contents:show'].response,
  'cards-diff': calls['contents:diff'].response,
  remake: calls['contents:remake'].response,
  /** Of `remake --into`. */
  'remake-into': calls['contents:remake-into'].response,
  'cards-drives': calls['drives:list'].response,
  'cards-target': calls['targets:judge'].response,
  'creators-list': calls['creators:list'].response,
  'creators-add': calls['creators:add'].response,
  'creators-show': creatorShown,
  'creators-set': calls['creators:change'].response,
  'licences-list': calls['licences:list'].response,
  'licences-add': calls['licences:add'].response,
  'licences-show': z.strictObject({ licence: shapes.licence }),
  'licences-set': calls['licences:change'].response,
  'licences-remove': calls['licences:remove'].response,
  'builds-list': calls['builds:list'].response,
  'builds-add': calls['builds:add'].response,
  'builds-show': z.strictObject({ build: shapes.build }),
  'builds-sounds-list': z.strictObject({ build: shapes.build }),
  'builds-sounds-add': calls['builds:sounds'].response,
  'builds-sounds-replace': calls['builds:sounds'].response,
  'builds-sounds-leave-out': calls['builds:sounds'].response,
  'builds-sounds-take-back': calls['builds:sounds'].response,
  'builds-configs': calls['builds:configs'].response,
  'builds-set': calls['builds:change'].response,
  'roots-list': calls['roots:list'].response,
  'roots-remove': calls['roots:remove'].response,
  'boards-list': calls['boards:list'].response,
  'boards-show': calls['boards:show'].response,
  'boards-new': calls['boards:new'].response,
  'boards-save': calls['boards:save'].response,
  'boards-versions': calls['boards:versions'].response,
  'boards-rules': calls['boards:rules'].response,
  'boards-test': calls['boards:test'].response,
  'boards-diff': calls['boards:diff'].response,
  'boards-draft': calls['boards:draft'].response,
  'boards-learn': calls['boards:learn'].response,
  'schemes-list': calls['schemes:list'].response,
  'schemes-show': z.strictObject({ scheme: schemeSummary }),
  roles: rolesWithScheme,
  translate: calls.translate.response,
} satisfies Record<string, z.ZodType>

export type DocumentName = keyof typeof documents
