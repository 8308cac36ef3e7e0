import type { ErrorReport } from '../../errors/app-error.ts'
import type { BoardCard } from '../../model/board.ts'
import { inUnits } from '../../model/in-units.ts'

/**
 * How a card becomes one that the board reads, step by step, with what each operating system brings
 * along; from memory of these tools. What is lost is told first.
 */
export function howToFormat({
  fileSystems,
  clusterBytes,
}: Pick<BoardCard, 'fileSystems' | 'clusterBytes'>): Required<Pick<ErrorReport, 'mend' | 'steps'>> {
  const isFat32 = fileSystems.includes('fat32')
  const name = isFat32 ? 'FAT32' : 'FAT16'
  const windows = isFat32 ? 'FAT32 (offered up to 32 GB)' : 'FAT (offered up to 4 GB)'
  const mac = isFat32 ? 'MS-DOS (FAT)' : 'MS-DOS (FAT), for a card up to 2 GB'
  return {
    mend: `Format it as ${name} with clusters of ${inUnits(clusterBytes)}; formatting erases everything on it. Or make an image, which brings its own file system, and write that to the card.`,
    steps: [
      { step: 'Copy off the card what is wanted.', ways: [] },
      { step: 'Make sure of the drive: it is the one that goes when the card is taken out.', ways: [] },
      {
        step: 'Format it, by the way of your system.',
        ways: [
          `Windows: in the File Explorer right-click the drive, Format, file system ${windows}, allocation unit size ${clusterBytes} bytes.`,
          `macOS: in Disk Utility show all devices, choose the card itself, Erase, format ${mac}, scheme Master Boot Record.`,
          `Linux: unmount it, then \`mkfs.fat -F ${isFat32 ? 32 : 16} -s ${clusterBytes / 512} /dev/…\` with the card's partition, which \`lsblk\` shows; or the desktop's program for disks.`,
        ],
      },
      { step: 'Take the card out, put it in again, and write it.', ways: [] },
    ],
  }
}
