import { basename, isAbsolute, join } from 'node:path'
import { AppError } from '../app/errors/app-error.ts'

/** Where everything of a workshop lies. */
export interface WorkshopPaths {
  readonly folder: string
  readonly store: string
  readonly peaks: string
  readonly images: string
  /** For what is half done; its content may go at any time. */
  readonly scratch: string
  /** A bare file name lies in the images folder. @throws AppError `path/not-whole` */
  imageAt(path: string): string
}

export function workshopPaths(folder: string): WorkshopPaths {
  const images = join(folder, 'images')
  const whole = (path: string): string => {
    if (isAbsolute(path)) return path
    if (basename(path) === path && path !== '.' && path !== '..') return join(images, path)
    throw new AppError({
      code: 'path/not-whole',
      what: 'It is neither a whole path nor a bare file name.',
      where: path,
      mend: `Write the whole path, or a file name alone, which lies in ${images}.`,
    })
  }
  return {
    folder,
    store: join(folder, 'store'),
    peaks: join(folder, 'peaks'),
    images,
    scratch: join(folder, 'scratch'),
    imageAt: whole,
  }
}
