namespace Vanehour.Board.People;

/// <summary>Somebody who may sign in.</summary>
/// <param name="Name">By which changes are signed.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Password">The password as hashed by the framework.</param>
/// <param name="Since">When the password was set.</param>
public sealed record Person(string Name, Role Role, string Password, DateTimeOffset Since)
{
    /// <summary>The longest name, characters.</summary>
    public const int LongestName = 60;

    /// <summary>The shortest password, characters (NIST SP 800-63B, section 5.1.1.2, from memory, asks for 8 at least; 10 is our own choice, since nothing but the password is asked for).</summary>
    public const int ShortestPassword = 10;

    /// <summary>The longest password, characters: so that nobody keeps the hashing busy.</summary>
    public const int LongestPassword = 200;
}
