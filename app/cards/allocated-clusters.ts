/**
 * Clusters that a run of bytes takes: whole ones; none for an empty file (FAT 1.03, "Directory
 * Structure": an empty file has first cluster 0).
 *
 * @throws RangeError for a negative or fractional argument: a caller's bug.
 */
export function allocatedClusters(sizeBytes: number, clusterBytes: number): number {
  if (!Number.isInteger(sizeBytes) || sizeBytes < 0) throw new RangeError(`size of ${sizeBytes} bytes`)
  if (!Number.isInteger(clusterBytes) || clusterBytes <= 0)
    throw new RangeError(`cluster of ${clusterBytes} bytes`)
  return Math.ceil(sizeBytes / clusterBytes)
}
