import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

/** The page, the same for both shells. Nothing is put inline, as the content policy of both allows no inline script. */
export default defineConfig({
  root: "renderer",
  base: "./",
  plugins: [react()],
  build: {
    outDir: "../dist/renderer",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    // It comes from this computer, not over a network.
    chunkSizeWarningLimit: 5000,
    modulePreload: { polyfill: false },
    target: "chrome130",
  },
});
