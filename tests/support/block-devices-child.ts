/** Tells the block devices as they are read on another system, whose tools stand first in the PATH. */
const [platform = 'linux'] = process.argv.slice(2)
// Both the library and what asks it look when they are loaded.
Object.defineProperty(process, 'platform', { value: platform })
const { blockDevicesOfMachine } = await import('../../main/adapters/drives/volume-below.ts')
process.stdout.write(JSON.stringify(await blockDevicesOfMachine()))
