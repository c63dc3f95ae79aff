// What the packager's own library says of an archive; a file of its own, as the library's types need not be there.
export { createPackage, extractAll, listPackage, statFile } from "@electron/asar";
