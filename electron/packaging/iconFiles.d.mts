export function icoOf(pictures: ReadonlyMap<number, Buffer>): Buffer;
export function icnsOf(pictures: ReadonlyMap<number, Buffer>): Buffer;
