import { bitDepth } from './bit-depth.ts'
import { cardLevelSpread } from './card-level-spread.ts'
import { cardPathRule } from './card-path.ts'
import { caseClash } from './case-clash.ts'
import { channels } from './channels.ts'
import { clipped } from './clipped.ts'
import { coding } from './coding.ts'
import { configCopyDiffers } from './config-copy-differs.ts'
import { configFolderAbsent } from './config-folder-absent.ts'
import { configFolderUnnamed } from './config-folder-unnamed.ts'
import { configMissing } from './config-missing.ts'
import { configOrder } from './config-order.ts'
import { container } from './container.ts'
import { dcOffset } from './dc-offset.ts'
import { defects } from './defects.ts'
import { duplicate } from './duplicate.ts'
import { empty } from './empty.ts'
import { folderOrder } from './folder-order.ts'
import { level } from './level.ts'
import { levelSpread } from './level-spread.ts'
import { licenceCredit } from './licence-credit.ts'
import { licenceForbids } from './licence-forbids.ts'
import { licenceNoSeat } from './licence-no-seat.ts'
import { licenceNone } from './licence-none.ts'
import { litter } from './litter.ts'
import { loopDip } from './loop-dip.ts'
import { loopSeam } from './loop-seam.ts'
import { lowShare } from './low-share.ts'
import { nameCase } from './name-case.ts'
import { nameCharset } from './name-charset.ts'
import { nameLength } from './name-length.ts'
import { normalFormClash } from './normal-form-clash.ts'
import { numberGap } from './number-gap.ts'
import { oneRate } from './one-rate.ts'
import { pairIncomplete } from './pair-incomplete.ts'
import { pairLengths } from './pair-lengths.ts'
import { pathLength } from './path-length.ts'
import { plainHeader } from './plain-header.ts'
import { readCost } from './read-cost.ts'
import { reservedName } from './reserved-name.ts'
import { roleMissing } from './role-missing.ts'
import type { CardRule, FontRule } from './rule.ts'
import { sampleRate } from './sample-rate.ts'
import { schemeName } from './scheme-name.ts'
import { silent } from './silent.ts'
import { slowOnset } from './slow-onset.ts'
import { tooLarge } from './too-large.ts'
import { tooLong } from './too-long.ts'
import { tooManyFonts } from './too-many-fonts.ts'
import { tooManySounds } from './too-many-sounds.ts'
import { trailingDotOrSpace } from './trailing-dot-or-space.ts'
import { trailingSilence } from './trailing-silence.ts'
import { truePeak } from './true-peak.ts'
import { truncated } from './truncated.ts'
import { unknownFile } from './unknown-file.ts'
import { unknownSound } from './unknown-sound.ts'
import { unreadable } from './unreadable.ts'
import { unspellable } from './unspellable.ts'

/** Every rule about one font, in the order of the severity table. */
export const FONT_RULES: readonly FontRule[] = [
  unreadable,
  container,
  coding,
  sampleRate,
  oneRate,
  bitDepth,
  channels,
  plainHeader,
  truncated,
  empty,
  tooLong,
  tooLarge,
  defects,
  silent,
  clipped,
  dcOffset,
  truePeak,
  level,
  levelSpread,
  slowOnset,
  trailingSilence,
  loopSeam,
  loopDip,
  pairLengths,
  lowShare,
  nameCharset,
  nameCase,
  nameLength,
  pathLength,
  caseClash,
  reservedName,
  trailingDotOrSpace,
  normalFormClash,
  schemeName,
  unspellable,
  cardPathRule,
  roleMissing,
  pairIncomplete,
  tooManySounds,
  numberGap,
  unknownSound,
  unknownFile,
  litter,
  duplicate,
  licenceNone,
  licenceForbids,
  licenceNoSeat,
  licenceCredit,
]

/** Every rule about the fonts of one card together. */
export const CARD_RULES: readonly CardRule[] = [
  tooManyFonts,
  folderOrder,
  cardLevelSpread,
  configMissing,
  configFolderAbsent,
  configFolderUnnamed,
  configOrder,
  readCost,
  configCopyDiffers,
]
