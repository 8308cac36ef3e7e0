import { fingerprintInCredits } from '../../cards/credits.ts'
import type { CardPorts } from '../card-ports.ts'

/** The content that a folder's credits name; null where none do, or it cannot be read. */
export async function contentHeldAt(
  folder: string,
  { reader }: Pick<CardPorts, 'reader'>,
): Promise<string | null> {
  const identity = await reader.identify(folder).catch(() => null)
  for (const { text } of identity?.texts ?? []) {
    const fingerprint = fingerprintInCredits(text)
    if (fingerprint !== null) return fingerprint
  }
  return null
}
