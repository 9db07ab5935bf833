/**
 * Types of the modules that are not in this folder: vendored ones, which the site carries under `vendor/` and the type check reads from
 * the npm packages, and the bench's own, which are built. What these answer is in `bench/lampblack.d.ts`.
 * Not here: which modules are vendored, which the build says.
 */

declare module "*/lampblack-bench.js";
declare module "*/lampblack-paper.js";
declare module "*/lampblack-pictures.js";
declare module "*/lampblack-signals.js";
declare module "*/lampblack-pictures-plain.js";
declare module "*/lampblack-signals-plain.js";

declare module "*/vendor/lit-html/lit-html.js" {
  export * from "lit-html";
}
declare module "*/vendor/lit-html/async-directive.js" {
  export * from "lit-html/async-directive.js";
}
declare module "*/vendor/lit-html/directive-helpers.js" {
  export * from "lit-html/directive-helpers.js";
}
declare module "*/vendor/lit-html/directives/guard.js" {
  export * from "lit-html/directives/guard.js";
}
declare module "*/vendor/lit-html/directives/live.js" {
  export * from "lit-html/directives/live.js";
}
declare module "*/vendor/lit-html/directives/repeat.js" {
  export * from "lit-html/directives/repeat.js";
}
declare module "*/vendor/idb/index.js" {
  export * from "idb";
}
