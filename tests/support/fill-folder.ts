import { fillTarget, type FillControl } from '../../app/cards/folder/fill-target.ts'
import type { FilledTarget } from '../../app/model/target.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import type { FillJob } from '../../app/ports/card-targets.ts'
import type { TargetFolder } from '../../app/ports/target-folder.ts'
import { isLitterFolder, kindOfFile } from '../../app/usecases/scan/file-kinds.ts'
import { openTargetFolder } from '../../main/adapters/files/target-folder.ts'

export const quietFill: FillControl = {
  isLitter: (name, isFolder) => (isFolder ? isLitterFolder(name) : kindOfFile(name) === 'litter'),
  cancel: () => {},
  onProgress: () => {},
}

/** Fills a folder of this machine with the files of a job. @param around puts itself between */
export function fillFolder(
  into: string,
  { plan, sourcePaths }: ImageJob,
  change: Partial<FillJob> = {},
  around: (target: TargetFolder) => TargetFolder = (target) => target,
): FilledTarget {
  const job = { planned: plan.files, known: [], mayReplace: false, keepsOrder: false, ...change }
  return fillTarget(job, around(openTargetFolder(into, sourcePaths, () => {})), quietFill)
}

/** A target that does something before one of its steps, counted from 0. */
export function beforeStep(at: number, act: () => void): (target: TargetFolder) => TargetFolder {
  let steps = 0
  return (target) =>
    new Proxy(target, {
      get: (real, name) => {
        const method = Reflect.get(real, name) as (...args: unknown[]) => unknown
        return (...args: unknown[]) => {
          if (steps++ === at) act()
          return method.apply(real, args)
        }
      },
    })
}
