import { config, z } from "zod";

// A strict content policy forbids code made at run time, which zod would otherwise try.
config({ jitless: true });

export { z };
