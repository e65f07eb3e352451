import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { keepPage } from "./host/app/keeper/keepPage.ts";

/** The page: built once into a folder that the server hands out. Everything it needs comes with it. */
export default defineConfig({
  root: "host/app",
  base: "/",
  plugins: [react(), keepPage()],
  build: {
    outDir: "../../.out/app",
    emptyOutDir: true,
    target: "es2022",
    // the content security policy allows no data: scripts or styles, and small files are no gain on loopback
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 4000,
    // the schemas by which the server reads requests are no part of the page, which uses the routes and types beside them
    rolldownOptions: { treeshake: { moduleSideEffects: [{ test: /host\/api\//, sideEffects: false }] } },
  },
  worker: { format: "es" },
});
