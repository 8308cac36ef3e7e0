import { compileScheme } from './scheme.ts'
import type { Scheme } from './scheme.ts'
import { schemeFile } from './scheme-file.ts'
import { readYaml, textError } from './yaml-text.ts'
import type { TextProblem } from './yaml-text.ts'

/**
 * Reads a scheme from its YAML text.
 * @throws AppError `scheme/invalid` with file, line and column; two clashing templates are named
 */
export function readScheme(text: string, file: string): Scheme {
  const reading = schemeOf(text)
  if ('problems' in reading) throw textError(reading.problems, file, 'scheme/invalid')
  return reading.scheme
}

function schemeOf(text: string): { scheme: Scheme } | { problems: readonly TextProblem[] } {
  const reading = readYaml(text, schemeFile)
  if (!reading.ok) return { problems: reading.problems }
  const compiled = compileScheme(reading.value)
  if (compiled.ok) return { scheme: compiled.scheme }
  return { problems: [{ ...templatesPosition(text), message: compiled.message }] }
}

function templatesPosition(text: string): { line: number; column: number } {
  const index = text.split('\n').findIndex((line) => line.startsWith('templates'))
  return { line: index < 0 ? 1 : index + 1, column: 1 }
}
