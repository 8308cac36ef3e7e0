/** One stretch of a template: fixed text, a word that is chosen, or the number. */
export type TemplatePiece =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'role' | 'part' | 'layer' }
  | { readonly kind: 'number'; readonly digits: number }

/** What is wrong with a template, for the scheme's author. */
export class TemplateFault extends Error {
  constructor(message: string) {
    super(message)
    this.name = 'TemplateFault'
  }
}

const SLOT = /\{([^{}]*)\}/g

/**
 * Splits a template such as `{role}-{n:02}.wav` into its pieces.
 * @throws TemplateFault for an unknown or repeated slot, a stray brace, or a path that is no path inside a font.
 */
export function parseTemplate(template: string): readonly TemplatePiece[] {
  const pieces: TemplatePiece[] = []
  const seen = new Set<string>()
  let from = 0
  for (const match of template.matchAll(SLOT)) {
    addText(pieces, template.slice(from, match.index))
    const piece = slot(match[1] ?? '')
    if (seen.has(piece.kind)) throw new TemplateFault(`"${match[0]}" stands in "${template}" twice`)
    seen.add(piece.kind)
    pieces.push(piece)
    from = match.index + match[0].length
  }
  addText(pieces, template.slice(from))
  if (!template.toLowerCase().endsWith('.wav'))
    throw new TemplateFault(`"${template}" does not end with .wav`)
  if (template.split('/').some((step) => step === '' || step === '.' || step === '..')) {
    throw new TemplateFault(`"${template}" is no path inside a font's folder`)
  }
  return pieces
}

function addText(pieces: TemplatePiece[], text: string): void {
  if (text === '') return
  if (/[{}]/.test(text)) throw new TemplateFault(`"${text}" has a brace without its partner`)
  if (/[\u0000-\u001f\\]/.test(text))
    throw new TemplateFault('a template has no control characters and no backslash')
  pieces.push({ kind: 'text', text })
}

function slot(name: string): TemplatePiece {
  if (name === 'role' || name === 'part' || name === 'layer') return { kind: name }
  if (name === 'n') return { kind: 'number', digits: 1 }
  const width = /^n:0?([1-6])$/.exec(name)
  if (width) return { kind: 'number', digits: Number(width[1]) }
  throw new TemplateFault(`"{${name}}" is no slot: there are {role}, {part}, {layer}, {n} and {n:02}`)
}
