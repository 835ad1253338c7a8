import { svelte, vitePreprocess } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vitest/config";
import { guide } from "./build/guide.ts";

export default defineConfig({
  plugins: [svelte({ extensions: [".svelte", ".md"], preprocess: [vitePreprocess(), guide] })],
  // The guide lies beside the interface.
  server: { fs: { allow: [".."] } },
  // A relative base lets the same files be served by the window and by a plain file server.
  base: "./",
  build: { target: "es2022", assetsInlineLimit: 0, cssCodeSplit: false, modulePreload: false },
  // Svelte's browser entry, so that runes run in tests as they do in the window.
  resolve: process.env.VITEST ? { conditions: ["browser"] } : {},
  test: { environment: "happy-dom", include: ["src/**/*.test.ts", "tests/**/*.test.ts"] },
});
