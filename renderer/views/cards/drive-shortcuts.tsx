import { Button } from '@mantine/core'
import { valueOr } from '../../hooks/loaded.ts'
import { useDrives } from '../../hooks/use-drives.ts'

/** Cards that are in a drive now, each a button that names its folder. */
export function DriveShortcuts({ onChoose }: { readonly onChoose: (path: string) => void }) {
  const { loaded, lookAgain } = useDrives()
  const mounted = valueOr(loaded, undefined)?.drives.filter(({ path }) => path !== null)
  return (
    <div className="row" role="group" aria-label="Cards that are in a drive now">
      {mounted?.length === 0 && <span className="quiet">No card is in a drive now.</span>}
      {mounted?.map(
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
