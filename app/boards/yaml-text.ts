import { LineCounter, isMap, isNode, isScalar, parseDocument } from 'yaml'
import type { Document, Node } from 'yaml'
import { z } from 'zod'
import { AppError } from '../errors/app-error.ts'
import { issuePredicate } from '../errors/issue-in-words.ts'
import { nearestWord } from './edit-distance.ts'

/** One thing wrong in a text, where an editor can point at it. Lines and columns count from 1. */
export interface TextProblem {
  readonly line: number
  readonly column: number
  readonly message: string
}

export type YamlReading<T> =
  | {
      readonly ok: true
      readonly value: T
      /** Where the value at a path stands, for faults that only show later. */
      readonly positionOf: (path: readonly (string | number)[]) => { line: number; column: number }
    }
  | { readonly ok: false; readonly problems: readonly TextProblem[] }

/** Longer texts are refused: a board or a scheme is a few pages, and positions must stay cheap. */
const LONGEST_TEXT = 1_000_000

/**
 * Reads a YAML text against a schema. Every fault carries its line and column; a misspelt key or
 * word gets the nearest right one as a suggestion. Pure; never throws for what the text holds.
 */
export function readYaml<T>(text: string, schema: z.ZodType<T>): YamlReading<T> {
  if (text.length > LONGEST_TEXT) {
    return {
      ok: false,
      problems: [{ line: 1, column: 1, message: 'The text is longer than 1,000,000 characters.' }],
    }
  }
  const lineCounter = new LineCounter()
  const document = parseDocument(text, {
    lineCounter,
    prettyErrors: false,
    version: '1.2',
    logLevel: 'error',
  })
  if (document.errors.length > 0) {
    const problems = document.errors.map((error) => {
      const at = lineCounter.linePos(error.pos[0])
      return { line: at.line, column: at.col, message: `This is no YAML: ${firstLine(error.message)}.` }
    })
    return { ok: false, problems }
  }
  let plain: unknown
  try {
    plain = document.toJS({ maxAliasCount: 100 })
  } catch {
    return { ok: false, problems: [{ line: 1, column: 1, message: 'Its aliases unfold to too much text.' }] }
  }
  const parsed = schema.safeParse(plain)
  if (parsed.success) {
    const positionOf = (path: readonly (string | number)[]) => position(document, lineCounter, path)
    return { ok: true, value: parsed.data, positionOf }
  }
  // A misspelt key is the cause of the missing one beside it, so it is told first.
  const [misspelt, others] = [true, false].map((wanted) =>
    parsed.error.issues
      .filter((issue) => (issue.code === 'unrecognized_keys' || issue.code === 'invalid_key') === wanted)
      .flatMap((issue) => problemsOf(issue, document, lineCounter, schema))
      .sort((a, b) => a.line - b.line || a.column - b.column),
  )
  return { ok: false, problems: [...(misspelt ?? []), ...(others ?? [])] }
}

/** One error for a text's faults: the first in full, the others counted. */
export function textError(problems: readonly TextProblem[], file: string, code: string): AppError {
  const first = problems[0] ?? { line: 1, column: 1, message: 'It cannot be read.' }
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : ''
  return new AppError({
    code,
    what: `${first.message}${more}`,
    where: `${file}, line ${first.line}, column ${first.column}`,
    mend: 'Correct the file and try again.',
  })
}

function problemsOf(
  issue: z.core.$ZodIssue,
  document: Document.Parsed,
  lineCounter: LineCounter,
  schema: z.ZodType,
): TextProblem[] {
  const path = issue.path.filter((step) => typeof step !== 'symbol')
  if (issue.code === 'unrecognized_keys') {
    const known = keysAt(schema, path)
    return issue.keys.map((key) => {
      const message = `"${shorten(key)}" is not known here.${suggestion(key, known)}`
      return { ...position(document, lineCounter, path, key), message }
    })
  }
  const at = position(document, lineCounter, path)
  const place = path.length === 0 ? 'The file' : `"${path.join('.')}"`
  if (issue.code === 'invalid_value') {
    const found = document.getIn(path)
    const allowed = issue.values.map(String)
    if (found === undefined) return [{ ...at, message: `${place} is missing.` }]
    const hint = typeof found === 'string' ? suggestion(found, allowed) : ''
    const shown = typeof found === 'object' ? 'This' : `"${shorten(String(found))}"`
    return [
      { ...at, message: `${shown} is not allowed for ${place}: it is one of ${allowed.join(', ')}.${hint}` },
    ]
  }
  if (issue.code === 'invalid_key') {
    const key = String(path.at(-1) ?? '')
    const parent = path.slice(0, -1)
    const message = `"${shorten(key)}" is not known here.${suggestion(key, keysAt(schema, parent))}`
    return [{ ...position(document, lineCounter, parent, key), message }]
  }
  if (issue.code === 'invalid_type' && document.getIn(path) === undefined) {
    return [{ ...at, message: `${place} is missing.` }]
  }
  const predicate = issuePredicate(issue)
  const message = predicate === null ? `${place}: ${issue.message}.` : `${place} ${predicate}.`
  return [{ ...at, message }]
}

/** Where the value at a path stands; where it is absent, its nearest parent; `key` asks for a key's own place. */
function position(
  document: Document.Parsed,
  lineCounter: LineCounter,
  path: readonly (string | number)[],
  key?: string,
): { line: number; column: number } {
  for (let length = path.length; length >= 0; length--) {
    const node: unknown = length === 0 ? document.contents : document.getIn(path.slice(0, length), true)
    if (!isNode(node)) continue
    const at = (key !== undefined && keyNode(node, key)?.range?.[0]) || node.range?.[0]
    if (at === undefined || at === null) continue
    const found = lineCounter.linePos(at)
    return { line: Math.max(1, found.line), column: Math.max(1, found.col) }
  }
  return { line: 1, column: 1 }
}

function keyNode(node: Node, key: string): Node | undefined {
  if (!isMap(node)) return undefined
  for (const pair of node.items) {
    if (isScalar(pair.key) && String(pair.key.value) === key) return pair.key
  }
  return undefined
}

/** The keys that an object schema at this path knows; empty where it is no object. */
function keysAt(schema: z.core.$ZodType, path: readonly (string | number)[]): string[] {
  const here = bare(schema)
  if (path.length === 0) {
    if (here instanceof z.ZodObject) return Object.keys(here.shape)
    return here instanceof z.ZodRecord && here.keyType instanceof z.ZodEnum
      ? here.keyType.options.map(String)
      : []
  }
  const [step, ...rest] = path
  if (here instanceof z.ZodObject) {
    const next = (here.shape as Record<string, z.core.$ZodType | undefined>)[String(step)]
    return next === undefined ? [] : keysAt(next, rest)
  }
  if (here instanceof z.ZodArray) return keysAt(here.element, rest)
  if (here instanceof z.ZodRecord) return keysAt(here.valueType, rest)
  if (here instanceof z.ZodUnion) return here.options.flatMap((option) => keysAt(option, path))
  return []
}

function bare(schema: z.core.$ZodType): z.core.$ZodType {
  let here = schema
  while (
    here instanceof z.ZodOptional ||
    here instanceof z.ZodNullable ||
    here instanceof z.ZodDefault ||
    here instanceof z.ZodReadonly
  ) {
    here = here.unwrap()
  }
  return here
}

function suggestion(word: string, candidates: readonly string[]): string {
  const nearest = nearestWord(word, candidates)
  return nearest === null || nearest === word ? '' : ` Did you mean "${nearest}"?`
}

function firstLine(text: string): string {
  return (text.split('\n')[0] ?? '').replace(/[.:]$/, '')
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}…` : text
}
