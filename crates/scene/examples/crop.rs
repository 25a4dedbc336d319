//! Crop.
use scene::Image;
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let im = Image::from_png(&std::fs::read(&a[1]).unwrap()).unwrap();
    let n: Vec<usize> = a[3..].iter().map(|s| s.parse().unwrap()).collect();
    let k = n[4];
    let mut out = Image::new([n[2]*k, n[3]*k]);
    for y in 0..n[3]*k { for x in 0..n[2]*k { let p = im.pixel([n[0]+x/k, n[1]+y/k]); let at=(y*n[2]*k+x)*3; out.pixels[at..at+3].copy_from_slice(&p); } }
    std::fs::write(&a[2], out.to_png().unwrap()).unwrap();
}
