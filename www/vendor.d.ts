/**
 * Types of the vendored modules: the site carries them under `vendor/`, and the type check reads them from the npm packages.
 * Not here: which modules are vendored, which the build says.
 */

declare module "*/vendor/lit-html/lit-html.js" {
  export * from "lit-html";
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
