import { main } from 'assemblyscript/asc'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))
const source = 'app/audio/kernel/assembly/index.ts'

/** Where the built kernel is kept. */
export const kernelBytesFile = join(root, 'app/audio/kernel/kernel-bytes.ts')

/**
 * Builds the measuring kernel from its AssemblyScript.
 * @returns the TypeScript file that carries its bytes; the same source gives the same text
 */
export async function builtKernelFile(): Promise<string> {
  const built: { bytes?: Uint8Array } = {}
  const { error, stderr } = await main(
    [
      'index.ts',
      '--outFile=kernel.wasm',
      '--runtime=stub',
      '--enable=simd',
      '--enable=relaxed-simd',
      '--noAssert',
      '-O3',
      '--converge',
      `--initialMemory=${MEMORY_PAGES}`,
      `--maximumMemory=${MEMORY_PAGES}`,
      '--use=abort=',
    ],
    {
      readFile: (name, folder) => readSource(name, folder),
      writeFile: (name, contents) => {
        if (name.endsWith('.wasm') && typeof contents !== 'string') built.bytes = contents
      },
      listFiles: () => [],
    },
  )
  if (error !== null || built.bytes === undefined)
    throw new Error(`The kernel did not build: ${stderr.toString()}`)
  return fileText(built.bytes)
}

/** 64 KiB each; the kernel itself checks nothing while it runs, opening it does. */
const MEMORY_PAGES = 32

function readSource(name: string, folder: string): string | null {
  try {
    return readFileSync(join(root, source, '..', folder, name), 'utf8')
  } catch {
    return null
  }
}

function fileText(bytes: Uint8Array): string {
  const lines =
    Buffer.from(bytes)
      .toString('base64')
      .match(/.{1,100}/g) ?? []
  return [
    '// Built from assembly/ by `npm run build-kernel`; a test builds it again and compares.',
    'export const KERNEL_BASE64 =',
    lines.map((line) => `  '${line}'`).join(' +\n'),
    '',
  ].join('\n')
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const text = await builtKernelFile()
  writeFileSync(kernelBytesFile, text)
  process.stdout.write(`${text.length} characters in ${kernelBytesFile}\n`)
}
