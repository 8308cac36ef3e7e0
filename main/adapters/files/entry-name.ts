/** An entry's name as text, and what it took to read it. */
export interface EntryName {
  /** Null where the bytes are no text in the encoding that the entry says. */
  readonly name: string | null
  readonly shownName: string
  readonly encoding: 'utf-8' | 'cp437'
}

const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })

/**
 * Reads an entry's name. Many programs write UTF-8 without saying so, and hardly any text in another
 * encoding happens to be valid UTF-8: so that is tried first, whatever the flag says.
 *
 * @param asCodePage437 the same bytes read as the format's original encoding
 * Source: PKWARE APPNOTE.TXT 6.3.10, appendix D.
 */
export function nameOfEntry(bytes: Uint8Array, saysUtf8: boolean, asCodePage437: string): EntryName {
  try {
    const name = strict.decode(bytes)
    return { name, shownName: name, encoding: 'utf-8' }
  } catch {
    if (!saysUtf8) return { name: asCodePage437, shownName: asCodePage437, encoding: 'cp437' }
    return { name: null, shownName: Buffer.from(bytes).toString('latin1'), encoding: 'utf-8' }
  }
}
