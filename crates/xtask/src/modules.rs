//! The bench's modules: built for the browser, bound to their glue, made smaller or quicker by binaryen.
//!
//! Each is a feature of the crate `wasm`, so that a page fetches what it asks for and no more. What goes through every sample and
//! pixel is built for speed, and twice: counting several numbers at a time, and without for a browser that cannot. The rest is built for
//! size alone. Not here: what else the site has ([`crate::site`]); which of the two a browser takes (`www/bench/worker.js`).

use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};
use wasm_bindgen_cli_support::Bindgen;

use crate::shell::{call, cargo, command, target};
use crate::site::{Files, below, hex, read, walk};

const TARGET: &str = "wasm32-unknown-unknown";

/// A module as one build of it.
struct Module {
    /// Its file is `lampblack-` and this.
    name: &'static str,
    /// Of the crate `wasm`.
    feature: &'static str,
    /// Of the workspace.
    profile: &'static str,
    /// Whether it counts several numbers at a time (128-bit SIMD).
    wide: bool,
}

impl Module {
    /// What binaryen is to look at: time where the compiler did, else size.
    fn aim(&self) -> &'static str {
        if self.profile == QUICK { "-O3" } else { "-Oz" }
    }
}

/// The profile of what goes through every sample and pixel.
const QUICK: &str = "site-quick";

/// The end of the name of what a browser takes that cannot count several numbers at a time.
pub const PLAIN: &str = "-plain";

const MODULES: [Module; 6] = [
    Module { name: "bench", feature: "bench", profile: "site", wide: false },
    Module { name: "paper", feature: "paper", profile: "site", wide: false },
    Module { name: "pictures", feature: "pictures", profile: QUICK, wide: true },
    Module { name: "signals", feature: "signals", profile: QUICK, wide: true },
    Module { name: "pictures-plain", feature: "pictures", profile: QUICK, wide: false },
    Module { name: "signals-plain", feature: "signals", profile: QUICK, wide: false },
];

/// A target folder of its own: cargo would name the folder of the profile `site` as the page's is named.
fn module_folder() -> PathBuf {
    target().join("module")
}

/// Each module in turn; the crates below are built once for all of one profile.
pub fn build() -> Result<(), String> {
    for Module { name, feature, profile, wide } in MODULES {
        let arguments = ["build", "--quiet", "--package", "wasm", "--lib", "--profile", profile, "--target", TARGET];
        let module = ["--no-default-features", "--features", feature, "--target-dir"];
        let flags = if wide { "-Ctarget-feature=+simd128" } else { "" };
        call(cargo(&arguments).args(module).arg(module_folder()).env("RUSTFLAGS", flags))?;
        let built = module_folder().join(TARGET).join(profile).join("wasm.wasm");
        let kept = module_folder().join(format!("{name}.wasm"));
        fs::copy(&built, &kept).map_err(|error| format!("cannot copy {}: {error}", built.display()))?;
    }
    Ok(())
}

/// The modules and their glue, each gone over by binaryen; the glue's types stay beside the site.
pub fn bind() -> Result<Files, String> {
    let said = |error: &dyn std::fmt::Display| format!("wasm-bindgen: {error:#}");
    let beside = target().join("site-types");
    if beside.exists() {
        fs::remove_dir_all(&beside).map_err(|error| format!("cannot clear {}: {error}", beside.display()))?;
    }
    let mut files = Files::new();
    for module in MODULES {
        let mut bindgen = Bindgen::new();
        bindgen
            .input_path(module_folder().join(format!("{}.wasm", module.name)))
            .out_name(&format!("lampblack-{}", module.name))
            .remove_name_section(true)
            .remove_producers_section(true)
            .typescript(true)
            .web(true)
            .and_then(|bindgen| bindgen.generate(&beside))
            .map_err(|error| said(&error))?;
        let name = format!("lampblack-{}_bg.wasm", module.name);
        let bound = beside.join(&name);
        files.insert(format!("bench/{name}"), better(&bound, module.aim())?);
        fs::remove_file(&bound).map_err(|error| format!("cannot remove {}: {error}", bound.display()))?;
    }
    for file in walk(&beside)? {
        let name = below(&file, &beside)?;
        if !name.ends_with(".d.ts") {
            files.insert(format!("bench/{name}"), read(&file)?);
            fs::remove_file(&file).map_err(|error| format!("cannot remove {}: {error}", file.display()))?;
        }
    }
    Ok(files)
}

/// What the compiler is sure to have built with: the module's own list is gone with its names.
const FEATURES: [&str; 6] = [
    "--enable-bulk-memory",
    "--enable-multivalue",
    "--enable-mutable-globals",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-sign-ext",
];

/// A module as binaryen makes it, remembered by what went in, since that takes its time.
fn better(module: &Path, aim: &str) -> Result<Vec<u8>, String> {
    let folder = module_folder().join("better");
    fs::create_dir_all(&folder).map_err(|error| format!("cannot make {}: {error}", folder.display()))?;
    let made = folder.join(format!("{}{aim}.wasm", hex(&Sha256::digest(read(module)?))));
    if !made.is_file() {
        // Under another name until it is whole.
        let begun = made.with_extension("begun");
        let mut tool = command("www/node_modules/.bin/wasm-opt", &[aim]);
        call(tool.args(FEATURES).arg(module).arg("-o").arg(&begun))?;
        fs::rename(&begun, &made).map_err(|error| format!("cannot rename {}: {error}", begun.display()))?;
    }
    read(&made)
}
