import { main } from 'assemblyscript/asc'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))
const sources = join(root, 'app/audio/kernel/assembly')

/** What is built: the measuring kernel and the rounding, each from its source into the file that keeps it. */
export const KERNELS = [
  { source: 'index.ts', name: 'KERNEL_BASE64', file: join(root, 'app/audio/kernel/kernel-bytes.ts') },
  { source: 'rounding.ts', name: 'ROUNDING_BASE64', file: join(root, 'app/audio/kernel/rounding-bytes.ts') },
] as const

/**
 * Builds a kernel from its AssemblyScript.
 * @returns the TypeScript file that carries its bytes; the same source gives the same text
 */
export async function builtKernelFile({ source, name }: (typeof KERNELS)[number]): Promise<string> {
  const built: { bytes?: Uint8Array } = {}
  const { error, stderr } = await main(
    [
      source,
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
      readFile: (path, folder) => readSource(path, folder),
      writeFile: (path, contents) => {
        if (path.endsWith('.wasm') && typeof contents !== 'string') built.bytes = contents
      },
      listFiles: () => [],
    },
  )
  if (error !== null || built.bytes === undefined)
    throw new Error(`The kernel did not build: ${stderr.toString()}`)
  return fileText(name, built.bytes)
}

/** 64 KiB each; the kernel itself checks nothing while it runs, opening it does. */
const MEMORY_PAGES = 32

function readSource(name: string, folder: string): string | null {
  try {
    return readFileSync(join(sources, folder, name), 'utf8')
  } catch {
    return null
  }
}

function fileText(name: string, bytes: Uint8Array): string {
  const lines =
    Buffer.from(bytes)
      .toString('base64')
      .match(/.{1,100}/g) ?? []
  return [
    '// Built from assembly/ by `npm run build-kernel`; a test builds it again and compares.',
    `export const ${name} =`,
    lines.map((line) => `  '${line}'`).join(' +\n'),
    '',
  ].join('\n')
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const kernel of KERNELS) {
    const text = await builtKernelFile(kernel)
    writeFileSync(kernel.file, text)
    process.stdout.write(`${text.length} characters in ${kernel.file}\n`)
  }
}
