import { imageStampOf } from '../cards/image-stamp.ts'
import { planAgain } from '../cards/plan-card.ts'
import { AppError } from '../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { Content, ContentFile } from '../model/content.ts'
import type { RunControl } from '../ports/progress.ts'
import { bringIn, sourcePathsOf } from './card-bytes.ts'
import type { CardPorts } from './card-ports.ts'
import { withDamageInWords } from './damaged-copy.ts'
import { namedContent } from './named-content.ts'
import { verifyAgainst, verifyReportOf } from './verify-image.ts'

type RemakePorts = Pick<CardPorts, 'database' | 'store' | 'originals' | 'images' | 'reader' | 'newHasher'>

/**
 * Makes a recorded content again, byte for byte, from what the workshop kept; nothing is judged, named
 * or decided anew. Bytes that left the store are taken from where the library still has them.
 *
 * @param request its `imagePath` is absolute
 * @throws AppError `verify/unknown-content`, `remake/bytes-gone`, `remake/differs`, those of
 *   `CardImages`; Cancelled
 */
export async function remakeContent(
  request: RequestOf<'contents:remake'>,
  ports: RemakePorts,
  control: RunControl,
): Promise<ResponseOf<'contents:remake'>> {
  const content = await namedContent(request.content, ports.database.records)
  const { imagePath, replace = false } = request
  const plan = planAgain(content.files, content.geometry)
  await ports.images.requireTarget(imagePath, replace, plan.usedClusters * content.geometry.clusterBytes)
  await bringBack(content, ports, control)
  const stamp = imageStampOf(content.fingerprint, content.createdAt, ports.newHasher)
  const sourcePaths = await sourcePathsOf(content.files, ports)
  const image = await withDamageInWords(content, ports.store, () =>
    ports.images.write({ plan, stamp, sourcePaths }, imagePath, control),
  )
  try {
    if (image.imageHash !== content.imageHash) throw differs(content, imagePath)
    const verified = await verifyAgainst(content, image.temporaryPath, 'image', ports, control)
    if (!verified.isVerified) throw differs(content, imagePath)
    await image.publish(replace)
    return {
      fingerprint: content.fingerprint,
      imagePath,
      imageBytes: content.geometry.imageBytes,
      imageHash: image.imageHash,
      verify: verifyReportOf(imagePath, content.fingerprint, verified),
      verified: verified.isVerified,
    }
  } finally {
    await image.discard()
  }
}

async function missingFiles(
  content: Content,
  ports: Pick<RemakePorts, 'store'>,
): Promise<readonly ContentFile[]> {
  const missing: ContentFile[] = []
  for (const file of content.files) {
    if (file.sizeBytes > 0 && !(await ports.store.has(file.sha256))) missing.push(file)
  }
  return missing
}

/**
 * Takes what the store lacks from the fonts' folders and archives, where these still have it.
 * @throws AppError `remake/bytes-gone` and those of `bringIn`; Cancelled
 */
export async function bringBack(
  content: Content,
  ports: Pick<RemakePorts, 'database' | 'store' | 'originals'>,
  control: RunControl,
): Promise<void> {
  const missing = await missingFiles(content, ports)
  if (missing.length === 0) return
  await bringIn(missing, ports, control)
  const [first, ...others] = await missingFiles(content, ports)
  if (first === undefined) return
  throw new AppError({
    code: 'remake/bytes-gone',
    what: `The bytes of ${first.path}${others.length === 0 ? '' : ` and ${others.length} more files`} are no longer in the workshop, nor where the library last saw them.`,
    where: content.fingerprint,
    mend: 'Bring back the download or the card itself, scan it, and try again.',
    kind: 'machine',
  })
}

function differs(content: Content, imagePath: string): AppError {
  return new AppError({
    code: 'remake/differs',
    what: `The image of ${content.fingerprint} did not come out as it was first made; it was removed.`,
    where: imagePath,
    mend: `Check the disk, or use the version that made it (${content.toolVersion}).`,
    kind: 'machine',
  })
}
