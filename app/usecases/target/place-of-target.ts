import type { TargetPlace } from '../../model/target.ts'
import type { TargetPorts } from './target-ports.ts'

/**
 * Where a target is, with the workshop and the folders of the library as places to keep away from.
 * @throws AppError those of `CardTargets.place`
 */
export async function placeOfTarget(
  into: string,
  ports: Pick<TargetPorts, 'targets' | 'database' | 'workshopFolder' | 'imagesFolder'>,
): Promise<TargetPlace> {
  const roots = await ports.database.library.listRoots()
  const keepAway = [ports.workshopFolder, ...roots.map(({ path }) => path)]
  return ports.targets.place(into, keepAway, [ports.imagesFolder])
}
