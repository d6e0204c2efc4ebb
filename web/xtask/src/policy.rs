//! The headers a host of Countback should send, and the one text of its
//! content-security policy.

/// What a page of ours may load: its own files, WASM, and pictures it made
/// itself. Scripts may come to be only through the policy that boot.js makes,
/// which lets a worker of our own be named and nothing else.
const CSP: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; \
img-src 'self' blob:; style-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; \
form-action 'none'; require-trusted-types-for 'script'; trusted-types default";

/// For a `meta` element, so that a plain host keeps to it too.
pub fn for_meta() -> String {
    CSP.to_owned()
}

/// Every header that does not depend on the file.
pub fn headers() -> Vec<(&'static str, String)> {
    vec![
        // Framing can only be refused by header.
        (
            "Content-Security-Policy",
            format!("{CSP}; frame-ancestors 'none'"),
        ),
        ("X-Content-Type-Options", "nosniff".to_owned()),
        ("Referrer-Policy", "no-referrer".to_owned()),
        ("Cross-Origin-Opener-Policy", "same-origin".to_owned()),
        ("Cross-Origin-Embedder-Policy", "require-corp".to_owned()),
        ("Cross-Origin-Resource-Policy", "same-origin".to_owned()),
        (
            "Permissions-Policy",
            "camera=(self), microphone=(), geolocation=(), payment=(), usb=()".to_owned(),
        ),
    ]
}
