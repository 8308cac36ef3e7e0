import { Button } from '@mantine/core'
import { valueOr } from '../../hooks/loaded.ts'
import { useDrives } from '../../hooks/use-drives.ts'

/** Cards that are in a drive now, each a button that names its folder. */
export function DriveShortcuts({ onChoose }: { readonly onChoose: (path: string) => void }) {
  const { loaded, lookAgain } = useDrives()
  const drives = valueOr(loaded, undefined)?.drives ?? []
  return (
    <div className="row" role="group" aria-label="Cards that are in a drive now">
      {drives.map(
        ({ path, label }) =>
          path !== null && (
            <Button key={path} size="sm" variant="default" onClick={() => onChoose(path)}>
              {label === '' ? path : `${label}, ${path}`}
            </Button>
          ),
      )}
      <Button size="sm" variant="default" onClick={lookAgain}>
        Look for drives again
      </Button>
    </div>
  )
}
