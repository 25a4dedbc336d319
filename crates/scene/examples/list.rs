fn main() {
    let text = std::fs::read_to_string(std::env::args().nth(1).unwrap()).unwrap();
    let read = params::read(&text);
    let r = design::resolve(&read.file.unwrap());
    let d = r.design.unwrap();
    for p in &d.placed { let q = &d.pieces[p.piece]; println!("{:28} piece {:20} {:?} {:?} lift {:?} {:?}", p.name, q.name, q.role, q.look, p.loose.map(|l| l.lift_mm), q.sheet); }
    for c in &d.chambers { println!("{c:?}"); }
    for c in &d.waters { println!("{c:?}"); }
    println!("{:?}", d.outside);
}
