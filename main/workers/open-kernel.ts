import { plainKernel } from '../../app/audio/kernel/plain-kernel.ts'
import type { Kernel } from '../../app/ports/kernel.ts'

/** One read buffer a worker: a piece of a file, and the frames that the piece before it cut. */
export const KERNEL_INPUT_BYTES = (1 << 18) + (1 << 16)

export function openKernel(): Kernel {
  return plainKernel(KERNEL_INPUT_BYTES)
}
