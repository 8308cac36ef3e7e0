import { createHash } from 'node:crypto'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { contentStore } from '../../main/adapters/files/content-store.ts'
import { newSha256 } from '../../main/adapters/files/new-sha256.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

/**
 * The example messages of FIPS 180-4 (NIST, "Cryptographic Standards and Guidelines: Example Values",
 * SHA-256), and the empty message. Values from memory, and equal to what OpenSSL computes.
 */
const VECTORS = [
  ['the empty message', '', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['24 bits', 'abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    '448 bits',
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  [
    '896 bits',
    'abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu',
    'cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1',
  ],
  [
    'a million times the letter a',
    'a'.repeat(1_000_000),
    'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0',
  ],
] as const

describe('SHA-256 of the examples of FIPS 180-4', () => {
  test.each(VECTORS)('%s, at once and in pieces', (_name, message, digest) => {
    const bytes = new TextEncoder().encode(message)
    for (const pieceBytes of [bytes.length || 1, 1, 63, 64, 65]) {
      if (bytes.length > 1000 && pieceBytes === 1) continue
      const hasher = newSha256()
      for (let at = 0; at < bytes.length; at += pieceBytes) hasher.update(bytes.subarray(at, at + pieceBytes))
      expect(hasher.digestHex()).toBe(digest)
    }
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(digest)
  })

  test.each(VECTORS)(
    '%s is kept in the store under that name, and under no other',
    async (_name, message, digest) => {
      const folder = temporaryFolder()
      const file = join(folder, 'message')
      writeFileSync(file, message)
      const store = contentStore(join(folder, 'store'))
      await store.keepFile(file, digest)
      expect(await store.has(digest)).toBe(true)
      const other = digest.replace(/^./, (first) => (first === '0' ? '1' : '0'))
      await expect(store.keepFile(file, other)).rejects.toMatchObject({ code: 'store/changed' })
      expect(await store.has(other)).toBe(false)
    },
  )
})
