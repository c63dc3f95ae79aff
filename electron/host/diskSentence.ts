/** What a disk error means, in words for the person at the bench. */
export function diskSentence(error: unknown): string {
  const code = (error as { code?: string } | null)?.code;
  switch (code) {
    case "ENOSPC":
      return "the disk is full; make room on it";
    case "EDQUOT":
      return "the user's share of the disk is full; make room in it";
    case "EIO":
      return "the disk reports an error; check the disk or its cable";
    case "ENODEV":
    case "ENXIO":
    case "ESTALE":
      return "the disk is not there any more; connect it again";
    case "EROFS":
      return "the disk is set to reading only; allow writing on it";
    case "EACCES":
    case "EPERM":
      return "writing there is not allowed; allow this user to write in the folder";
    case "ENOENT":
    case "ENOTDIR":
      return "the folder is not there; put it back where it was";
    case "EBUSY":
      return "another program holds it; close that one, or wait";
    case "ENAMETOOLONG":
      return "its name is too long for this disk; give it a shorter one";
    case "ELOOP":
      return "a link stands in its place; put the file itself there";
    case "EFBIG":
      return "the file has become too large for this disk";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
